"""The covering paragraph of an evaluation's papers: drafted from what was found, edited by the luthier, kept."""

from flask import Blueprint, redirect, render_template, request, url_for

from ...papers.covering import MOST, drafted
from ...store.evaluations import Kept
from ...store.workshop.covering import covering_of, keep_covering
from ...wording.phrases import undrawn
from ..looking.pages import View, kept_or_404
from ..people.doors import name_now
from ..service import service

covering = Blueprint("covering", __name__)


@covering.get("/evaluations/<identity>/covering")
def page(identity: str) -> str:
    """What is kept, or a draft; `anew` drafts it again."""
    kept = kept_or_404(identity)
    there = covering_of(service().engine, identity)
    draft = drafted(service().result(kept))
    text = there.text if there and "anew" not in request.args else draft
    return _page(kept, text)


@covering.post("/evaluations/<identity>/covering")
def keep(identity: str) -> View:
    """Keep what stands in the box, or take it off the papers; too long a text comes back as it was typed."""
    kept = kept_or_404(identity)
    text = request.form.get("text", "").replace("\r\n", "\n").strip()
    if request.form.get("go") == "off":
        text = ""
    if len(text) > MOST:
        said = f"It has {len(text):,} letters, and page one has room for {MOST:,}. Shorten it, then keep it."
        return _page(kept, text, said), 422
    keep_covering(service().engine, identity, text, kept.version, service().now(), name_now())
    return redirect(url_for("covering.page", identity=identity))


def _page(kept: Kept, text: str, wrong: str = "") -> str:
    from ...papers.printing.fonts import undrawable

    letters = undrawable(text)
    there = covering_of(service().engine, kept.id)
    return render_template(
        "result/covering.html",
        kept=kept,
        text=text,
        most=MOST,
        there=there,
        old=there is not None and there.version != kept.version,
        letters=undrawn(letters) if letters else "",
        wrong=wrong,
    )
