"""Which instrument it is: photographs from five sides, and what its card says, as papers print them."""

from flask import Blueprint, redirect, render_template, request, url_for

from ...papers.sections.photographs import sides_of
from ...result.model.result import Result
from ...store.desk.offers import stock_number
from ...store.evaluations import DRAFT, Kept, find, remove_photo
from ...store.photos import small_photo
from ...store.workshop.customers import find_instrument
from ...store.workshop.timeline import belongs_to
from ..looking.pages import View, kept_or_404
from ..looking.photos import added
from ..service import service

identity = Blueprint("identity", __name__)
CARD = {
    "maker": "Maker, as said",
    "label": "Label, as it reads",
    "serial": "Serial or stamp",
    "measures": "Measures that stay",
}


@identity.get("/evaluations/<identity>/identity")
def page(identity: str) -> str:
    return _page(kept_or_404(identity))


@identity.post("/evaluations/<identity>/identity/<side>")
def keep(identity: str, side: str) -> View:
    """Keep the photograph of a side in the place of the one before, or take it off."""
    kept = kept_or_404(identity)
    if side not in sides_of(_family(kept)):
        return _page(kept), 404
    before = [str(photo["name"]) for photo in kept.typed.get("photos", {}).get(side, ())]
    told = () if request.form.get("go") == "off" else added(identity, side)
    if isinstance(told, str):
        return _page(kept, told), 422
    for name in before:
        if not told or name != told[-1]:
            remove_photo(service().engine, identity, side, name, service().now())
    return redirect(url_for("identity.page", identity=identity))


def card_of(kept: Kept) -> tuple[tuple[str, str], ...]:
    """What its card and the stock book say of which one it is: (what, said)."""
    card = find_instrument(service().engine, belongs_to(service().engine, kept.id))
    record = card.record if card else {}
    told = [(say, record[name]) for name, say in CARD.items() if record.get(name)]
    number = stock_number(service().engine, kept.id)
    return (*told, *([("Stock number", number)] if number else []))


def photos_of(kept: Kept) -> tuple[tuple[str, bytes], ...]:
    """The photographs by side: (side in words, picture); one that is gone has no bytes."""
    shown = kept.typed.get("photos", {})
    return tuple(
        (say, small_photo(service().photos_folder, str(shown[side][-1]["name"])) or b"")
        for side, say in sides_of(_family(kept)).items()
        if shown.get(side)
    )


def before_of(kept: Kept) -> tuple[str, Result] | None:
    """The finished look from which this one was begun: (day, result)."""
    before = find(service().engine, kept.made_from) if kept.made_from else None
    if before is None or before.state == DRAFT or before.frozen is None:
        return None
    return before.changed, service().result(before)


def _family(kept: Kept) -> str:
    return service().rubric(kept.rubric).family


def _page(kept: Kept, wrong: str = "") -> str:
    shown = kept.typed.get("photos", {})
    return render_template(
        "result/identity.html",
        kept=kept,
        open=kept.state == DRAFT,
        sides=[
            (side, say, str(shown[side][-1]["name"]) if shown.get(side) else "")
            for side, say in sides_of(_family(kept)).items()
        ],
        card=card_of(kept),
        instrument=belongs_to(service().engine, kept.id),
        wrong=wrong,
    )
