"""Offers that are kept: made from the trade-in page, found again, answered; an accepted one brings it in."""

from collections.abc import Mapping
from urllib.parse import urlencode

from flask import Blueprint, Response, abort, redirect, render_template, request, url_for

from ...basis.problem import Problem
from ...choosing.offer_letter import TAKEN, OfferLetter, State, letter_of
from ...choosing.stock import Cost, Item
from ...store.desk.offers import KeptOffer, accept_offer, find_offer, keep_offer, listed_offers, move_offer
from ...store.finding.listing import from_address, in_address
from ...wording.choosing.trade_in import trade_in_json
from ...wording.decisions import MATERIALS
from ..choosing.decisions import sentence_of, typed_trade_in
from ..looking.pages import View, kept_or_404
from ..people.doors import may, role_now
from ..result.house_style import headed_pdf
from ..service import service

offers = Blueprint("offers", __name__)

STATES: Mapping[State, str] = {
    "open": "waits for an answer",
    "accepted": "accepted",
    "declined": "declined",
    "withdrawn": "withdrawn",
}


@offers.post("/evaluations/<identity>/offers")
def keep(identity: str) -> View:
    """Keep the offer that the page showed, under a number of its own."""
    kept = kept_or_404(identity)
    typed = typed_trade_in(kept, request.form)
    shown = service().result(kept)
    found = trade_in_json(shown, service().shop, typed.asked) if not typed.wrong else ()
    if isinstance(found, tuple):
        return redirect(f"{url_for('decisions.trade_in', identity=identity)}?{urlencode(typed.address)}")
    days = service().shop.validity_days
    letter = letter_of(found, shown, kept.id, service().today(), days, kept.rubric)
    made = keep_offer(service().engine, letter, service().now())
    return redirect(url_for("offers.offer", key=made.id))


@offers.get("/offers")
def every() -> View:
    """All offers, or those whose number or name holds what is looked for."""
    wanted = request.args.get("find", "").strip()[:60]
    found, key = listed_offers(service().engine, wanted, from_address(request.args.get("after", "")))
    return render_template(
        "desk/offers.html", offers=found, states=STATES, wanted=wanted, all=found or wanted, more=in_address(key)
    )


@offers.get("/offers/<key>")
def offer(key: str) -> View:
    return _page(_kept(key))


@offers.get("/offers/<key>/offer.pdf")
def paper(key: str) -> Response:
    """The letter to the owner; what the shop earns is not in it."""
    from ...papers.offer_story import offer_paper

    kept = _kept(key)
    shop = service().shop
    letterhead = "" if shop.is_default else shop.shop
    return headed_pdf(offer_paper(kept.letter, letterhead), f"offer-{kept.letter.number}.pdf")


@offers.post("/offers/<key>/accept")
def accept(key: str) -> View:
    """The owner has agreed to one way; by cash or trade the instrument is the shop's from now on."""
    kept = _kept(key)
    today = service().today()
    found = accept_offer(service().engine, key, request.form.get("way", ""), today, service().now(), _item)
    if isinstance(found, Problem):
        return _page(kept, sentence_of(found)), 409
    item = found[1]
    return redirect(url_for("offers.offer", key=key) if item is None else url_for("stock.item", key=item.id))


@offers.post("/offers/<key>/<to>")
def move(key: str, to: str) -> View:
    """Declined by the owner, or withdrawn by the shop."""
    kept = _kept(key)
    states: Mapping[str, State] = {"decline": "declined", "withdraw": "withdrawn"}
    if to not in states:
        abort(404)
    found = move_offer(service().engine, key, states[to], service().today(), service().now())
    if isinstance(found, Problem):
        return _page(kept, sentence_of(found)), 409
    return redirect(url_for("offers.offer", key=key))


def _item(letter: OfferLetter) -> Item | None:
    """What the shop has by it: at the cost that it paid or allowed."""
    way = next((one for one in letter.ways if one.kind == letter.chosen), None)
    if way is None or way.kind not in TAKEN:
        return None
    shown = service().result(kept_or_404(letter.evaluation))
    lasting = shown.verdict.lasting
    say = "Paid to the owner" if way.kind == "cash" else "Allowed in trade"
    return Item(
        number="",
        evaluation=letter.evaluation,
        offer=letter.number,
        title=letter.title,
        family=letter.family,
        size=letter.size,
        tier=shown.instrument.tier,
        came_on=service().today(),
        costs=(Cost(service().today(), say, way.to_owner),),
        retention=max(0.01, lasting.left) if lasting else 1.0,
    )


def _kept(key: str) -> KeptOffer:
    found = find_offer(service().engine, key)
    if found is None:
        abort(404)
    return found


def _page(kept: KeptOffer, wrong: str = "") -> str:
    role = role_now()
    return render_template(
        "desk/offer.html",
        kept=kept,
        letter=kept.letter,
        states=STATES,
        wrong=wrong,
        materials=MATERIALS,
        expired=service().today() > kept.letter.valid_until,
        inside=request.args.get("inside") == "yes" and role is not None and may(role, "bench.page"),
        may_look=role is not None and may(role, "bench.page"),
    )
