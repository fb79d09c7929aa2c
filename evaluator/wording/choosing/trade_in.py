"""What a shop can give as plain JSON values with their sentences: pages, papers and `--json` draw these.

Figures are rounded for reading.
"""

from dataclasses import asdict

from ...basis.problem import Problem
from ...basis.record import with_amounts
from ...basis.show import money
from ...choosing.offers import Asked, Offered, months_of, offered
from ...choosing.told import CashStep, OfferTold, ShopTold, TradeInTold
from ...choosing.trade_in import Kind, Offer, TradeIn
from ...result.model.result import Result
from ...rubric.shop import Shop
from ..answer.source import OWN_FIGURE, source_words
from ..names import OPINION
from ..words import title

FORMAT = 2  # 1: money as plain numbers
TITLES: dict[Kind, str] = {
    "cash": "Cash today",
    "trade": "Against the next instrument",
    "consignment": "The shop sells it for you",
    "alone": "You sell it yourself",
}
TERMS: dict[Kind, str] = {
    "cash": "outright purchase",
    "trade": "trade-in allowance",
    "consignment": "consignment",
    "alone": "private sale",
}
SAYS: dict[Kind, str] = {
    "cash": "Paid today; the shop does the work and carries the risk.",
    "trade": "Taken off the price of the next instrument; worth nothing as cash.",
    "consignment": "Paid only if and when it sells; that can take many months.",
    "alone": "Sold privately, without a shop's guarantee.",
}
SAYS_WITH_WORK: dict[Kind, str] = {
    **SAYS,
    "consignment": "The owner pays the work first, and is paid only if and when it sells; that can take many months.",
    "alone": "Made ready elsewhere and sold privately, without a shop's guarantee.",
}
GIVES: dict[str, str] = {
    "cash": "{cash} in cash today.",
    "both": "{cash} in cash today, or {trade} against the next instrument.",
    "trade": "No cash offer, but {trade} against the next instrument.",
    "too_dear": "No cash offer: making it ready would cost the shop more than it brings.",
    "nothing": "No cash offer: making it ready and the shop's margin take all that it would bring.",
}
STEPS: dict[str, str] = {
    "sale": "Sells for about",
    "margin": "The shop's margin, {margin:.0f} of 100",
    "ready": "Making it ready",
    "left": "What is left",
    "keeping": "Keeping it until it sells, and rounding",
    "cash": "In cash today",
    "part": "Part of the margin on the next instrument",
    "trade": "Against the next instrument",
}
EARNS: dict[str, str] = {
    "nothing": "The shop earns nothing on any of these.",
    "most": "The shop earns most with this one: {title}.",
    "most_in_trade": "The shop earns most with this one: {title} (what it earns on the next instrument is counted in).",
}


def trade_in_json(shown: Result, shop: Shop, asked: Asked) -> TradeInTold | tuple[Problem, ...]:
    """The ways out for the owner side by side, or what must be settled before any figure is named."""
    one = offered(shown, shop, asked)
    if isinstance(one, tuple):
        return one
    found, work = one.found, one.work
    kinds = {offer.kind: offer for offer in found.offers}
    return TradeInTold(
        format=FORMAT,
        title=shown.title,
        family=shown.rubric.title,
        size=shown.instrument.size,
        about=shown.instrument.about,
        currency=found.currency,
        shop=ShopTold(name=shop.shop, is_default=shop.is_default, borrowed=shop.borrowed),
        materials=asked.answers.materials,
        ticket_price=round(one.ticket, 2),
        ticket_price_from=OWN_FIGURE["owner"] if one.own else source_words(shown, "owner"),
        new_price=round(asked.new_price, 2),
        sale_price=round(found.sale_price, 2),
        making_ready=round(found.making_ready, 2),
        work=round(work.price, 2),
        not_seen=round(work.not_seen, 2),
        seen=shown.verdict.seen,
        months_to_sell=months_of(shown, shop),
        chance_of_sale=shop.buying.chance_of_sale,
        terms=shop.buying.model_dump(),
        offers=tuple(_offer(offer, one) for offer in found.offers),
        cash_steps=tuple(_cash_steps(found, shop)),
        profits_shop_most=found.profits_shop_most,
        nothing_left=kinds["cash"].to_owner <= 0,
        disqualifying=tuple(title(item) for item in shown.disqualifying if item.seen and item.level != "possible"),
        opinion=OPINION,
        sentence=_gives(found),
        shop_sentence=_earns(found),
    )


MONEY = frozenset(
    {"ticket_price", "new_price", "sale_price", "making_ready", "work", "not_seen", "to_owner", "expected",
     "shop_earns", "amount", "bench_cost_per_hour"}
)  # fmt: skip


def trade_in_told(found: TradeInTold) -> dict[str, object]:
    """A trade-in for other programs: its money as text with the currency."""
    return with_amounts(asdict(found), MONEY, found.currency)


def _offer(offer: Offer, one: Offered) -> OfferTold:
    says = SAYS_WITH_WORK if one.work.price + one.work.not_seen > 0 else SAYS
    return OfferTold(
        kind=offer.kind,
        title=TITLES[offer.kind],
        term=TERMS[offer.kind],
        to_owner=round(offer.to_owner, 2),
        expected=round(offer.expected, 2),
        shop_earns=round(offer.shop_earns, 2),
        say=says[offer.kind],
    )


def _gives(found: TradeIn) -> str:
    """What the shop can give, in one sentence."""
    offers = {offer.kind: round(offer.to_owner) for offer in found.offers}
    cash, trade = offers["cash"], offers.get("trade", 0)
    if cash > 0:
        code = "both" if trade > 0 else "cash"
    elif trade > 0:
        code = "trade"
    else:
        code = "too_dear" if found.making_ready >= found.sale_price else "nothing"
    return GIVES[code].format(cash=money(cash, found.currency), trade=money(trade, found.currency))


def _cash_steps(found: TradeIn, shop: Shop) -> list[CashStep]:
    """From the sale price down to the cash, and up again to what is allowed in trade, in whole units that add up.

    What keeping it until it sells costs is the rest, with what is rounded off as one says a price, so that the lines
    come to their sum.
    Where nothing is left the steps end at what is missing.
    """
    offers = {offer.kind: round(offer.to_owner) for offer in found.offers}
    sale, ready = round(found.sale_price), round(found.making_ready)
    margin = round(found.sale_price * shop.buying.margin)
    left = sale - margin - ready
    steps = [
        _step("sale", sale),
        _step("margin", -margin, margin=shop.buying.margin * 100),
        *([_step("ready", -ready)] if ready else []),
    ]
    if offers["cash"] <= 0:
        return [*steps, _step("left", left, is_sum=True)]
    if left != offers["cash"]:
        steps.append(_step("keeping", offers["cash"] - left))
    steps.append(_step("cash", offers["cash"], is_sum=True))
    if "trade" in offers:
        steps.append(_step("part", offers["trade"] - offers["cash"]))
        steps.append(_step("trade", offers["trade"], is_sum=True))
    return steps


def _step(code: str, amount: float, *, is_sum: bool = False, **told: float) -> CashStep:
    return CashStep(say=STEPS[code].format(**told), amount=amount, sum=is_sum)


def _earns(found: TradeIn) -> str:
    """Which way profits the shop most, said openly."""
    most = found.profits_shop_most
    if most is None:
        return EARNS["nothing"]
    title = TITLES[most]
    return EARNS["most_in_trade" if most == "trade" else "most"].format(title=f"{title[:1].lower()}{title[1:]}")
