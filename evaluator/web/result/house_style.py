"""What the workshop puts on its papers, whatever they tell: its logo, its ways to be reached, its signature, and the
covering paragraph of an evaluation, drafted from what was found and edited by the luthier.
"""

from dataclasses import replace

from flask import Blueprint, Response, abort, redirect, render_template, request, url_for

from ...papers.blocks import Paper
from ...papers.sections.front import MOST_COVERING, drafted
from ...store.evaluations import Kept
from ...store.photos import photo_path
from ...store.workshop.figures import SIGNATURE, choice_of, logo_of
from ...store.workshop.texts import covering_of, keep_covering
from ...wording.phrases import undrawn
from ..looking.pages import View, kept_or_404
from ..people.doors import name_now
from ..service import service

covering = Blueprint("covering", __name__)


def logo_now() -> bytes | None:
    """The workshop's logo as a picture's bytes."""
    return _picture(logo_of(service().engine))


def ways_now() -> tuple[str, ...]:
    """How to reach the workshop, with its tax number, for the head of each page."""
    shop = service().shop
    return tuple(way for way in (*shop.address, shop.telephone, shop.email, shop.tax_number) if way)


def dressed(paper: Paper, of: Kept | None = None) -> Paper:
    """The paper in the house style: a logo of its own stays, else it gets the workshop's; and the signature. Its foot
    names the evaluation that it rests `of`.
    """
    signed = _picture(choice_of(service().engine, SIGNATURE)) or b""
    return replace(paper, logo=paper.logo or logo_now() or b"", signature=signed, foot=_foot(paper, of))


def headed(paper: Paper, of: Kept | None = None) -> Paper:
    """The same with the ways to reach the workshop at the head, for a paper that does not name them itself."""
    return dressed(replace(paper, contact=paper.contact or (ways_now() if paper.letterhead else ())), of)


def headed_pdf(paper: Paper, name: str) -> Response:
    """A paper with the ways to reach the workshop at its head, in the size that the address asks for."""
    from ...papers.printing.pdf import PAPERS

    size = request.args.get("paper", "A4")
    if size not in PAPERS:
        abort(404)
    return pdf(service().drawn(headed(paper), size), name)


def pdf(content: bytes, name: str) -> Response:
    """A paper as a browser shows it, and saves it under this name."""
    return Response(content, mimetype="application/pdf", headers={"Content-Disposition": f'inline; filename="{name}"'})


def _foot(paper: Paper, of: Kept | None) -> str:
    return paper.foot if of is None else f"{paper.foot}, evaluation {of.id}, version {of.version}"


def _picture(name: str | None) -> bytes | None:
    place = photo_path(service().photos_folder, name) if name else None
    return place.read_bytes() if place else None


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
    if len(text) > MOST_COVERING:
        said = f"It has {len(text):,} letters, and page one has room for {MOST_COVERING:,}. Shorten it, then keep it."
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
        most=MOST_COVERING,
        there=there,
        old=there is not None and there.version != kept.version,
        letters=undrawn(letters) if letters else "",
        wrong=wrong,
    )
