"""What a shop can give for an instrument: cash, in trade, on consignment; and what the owner could do alone.

    cash    O = (S (1 - g) - C) / (1 + h)
    trade   O + s x the margin on the instrument that is bought
    consignment, owner's net   S (1 - c) - K, and with the chance p that it sells   p S (1 - c) - K

S is the price it will really sell for, g the gross margin, C the shop's own cost of making it ready, h the cost of
holding it, c the commission, K the work at the customer's price, paid whether it sells or not. Common practice,
inputs from memory.
"""

from dataclasses import dataclass, replace
from decimal import ROUND_FLOOR, Decimal
from typing import Literal

from ..basis.problem import Message, Messages, Problem, problem
from ..rubric.shop import Buying, Shop

Materials = Literal["none", "allowed", "unknown", "not_allowed"]
Kind = Literal["cash", "trade", "consignment", "alone"]

MESSAGES: Messages = {
    "trade_in.materials_unknown": Message(
        "it is not settled whether there is ivory, tortoiseshell, rosewood or pernambuco on it.",
        "Settle it before any figure: a part exchange counts as dealing, and the law of the place decides.",
    ),
    "trade_in.materials_not_allowed": Message(
        "it holds a protected material that may not be dealt in here.", "Make no offer; ask the competent office."
    ),
    "trade_in.owner": Message("nobody has said whose it is.", "Ask, and note the name before any figure."),
    "trade_in.identity": Message(
        "who offers it has not been noted.", "See a document and note it, as the law of the place asks."
    ),
    "trade_in.nothing_left": Message(
        "making it ready would cost more than it brings.", "Say so, and offer the make-safe work or the parts' value."
    ),
}


@dataclass(frozen=True, slots=True)
class Answers:
    """What is asked before any figure is named."""

    materials: Materials = "unknown"
    owner_noted: bool = False
    identity_noted: bool = False


@dataclass(frozen=True, slots=True)
class Work:
    """The work that makes it ready: bench hours, its parts at retail, and what a customer pays for all of it.

    `not_seen`: what a customer would usually pay, beyond that, for what may come on top and for faults that nobody has
    looked for.
    """

    hours: float
    parts_retail: float
    price: float
    not_seen: float = 0.0


@dataclass(frozen=True, slots=True)
class Offer:
    """One way out for the owner: what reaches the owner, surely or on average, and what the shop earns on it."""

    kind: Kind
    to_owner: float
    expected: float
    shop_earns: float


@dataclass(frozen=True, slots=True)
class TradeIn:
    """The offers side by side, in one currency. `profits_shop_most` names the kind that does, to be said openly.

    A way by which the shop pays nothing is no offer, and does not count there.
    """

    sale_price: float
    making_ready: float
    offers: tuple[Offer, ...]
    currency: str

    @property
    def profits_shop_most(self) -> Kind | None:
        """None where the shop earns nothing by any way."""
        open_ways = [one for one in self.offers if one.to_owner > 0 or one.kind not in {"cash", "trade"}]
        most = max(open_ways, key=lambda one: one.shop_earns)
        return most.kind if most.shop_earns > 0 else None


def before_any_figure(answers: Answers) -> tuple[Problem, ...]:
    """What must be settled first; empty when a figure may be named."""
    codes = []
    if answers.materials == "unknown":
        codes.append("trade_in.materials_unknown")
    if answers.materials == "not_allowed":
        codes.append("trade_in.materials_not_allowed")
    if not answers.owner_noted:
        codes.append("trade_in.owner")
    if not answers.identity_noted:
        codes.append("trade_in.identity")
    return tuple(problem(MESSAGES, code, "trade-in") for code in codes)


# As a shop says it: what it pays falls to the next lower of these steps, by how large it is. Common practice.
STEPS = ((100, 5), (1_000, 10), (5_000, 50), (20_000, 100), (10**12, 500))


def as_said(amount: float) -> Decimal:
    """What a shop says that it pays: down to the next step; nothing for what is below the smallest."""
    exact = Decimal(repr(max(0.0, amount)))
    step = next(Decimal(step) for limit, step in STEPS if exact < limit)
    return (exact / step).to_integral_value(ROUND_FLOOR) * step


def said(found: TradeIn, buying: Buying) -> TradeIn:
    """The same with what the shop pays as it says it; what that leaves, and costs less to hold, the shop earns."""
    return replace(found, offers=tuple(_said(one, buying) for one in found.offers))


def _said(one: Offer, buying: Buying) -> Offer:
    if one.kind not in ("cash", "trade"):
        return one
    paid = float(as_said(one.to_owner))
    earns = one.shop_earns + (one.to_owner - paid) * (1.0 + buying.holding)
    return replace(one, to_owner=paid, expected=paid, shop_earns=earns)


def making_ready(hours: float, parts_retail: float, buying: Buying) -> float:
    """C: the shop's own cost, bench hours at cost and parts at cost."""
    return hours * buying.bench_cost_per_hour + parts_retail * buying.parts_cost_share


def cash_offer(sale_price: float, cost_ready: float, buying: Buying) -> float:
    """O; negative where nothing is left to offer."""
    return (sale_price * (1.0 - buying.margin) - cost_ready) / (1.0 + buying.holding)


def trade_offer(cash: float, new_price: float, new_margin: float, buying: Buying) -> float:
    """What the owner may be allowed against an instrument of this price, on which the shop has this gross margin."""
    return cash + buying.share_of_new_margin * new_price * new_margin


def consignment_net(sale_price: float, commission: float, work: float, chance_of_sale: float = 1.0) -> float:
    """The owner's net after commission and work; the work is paid whether it sells or not."""
    return chance_of_sale * sale_price * (1.0 - commission) - work


def cost_of_not_seen(work: Work, shop: Shop) -> float:
    """What the shop's own bench would pay for what a customer would pay for what nobody has looked at."""
    return work.not_seen * shop.buying.bench_cost_per_hour / shop.rates["repair"].likely


def trade_in(
    work: Work, ticket_price: float, shop: Shop, new_price: float = 0.0, private_share: float | None = None
) -> TradeIn:
    """Every way out side by side. `ticket_price`: what it would be marked when ready; `new_price`: what is bought;
    `private_share`: what one like it brings without a shop, as a share of that (None: as the shop file says).
    """
    buying = shop.buying
    sale = ticket_price * buying.sale_share_of_ticket
    ready = making_ready(work.hours, work.parts_retail, buying) + cost_of_not_seen(work, shop)
    cash = cash_offer(sale, ready, buying)
    offers = [_cash(cash, sale, ready, buying)]
    if new_price > 0:
        offers.append(_trade(cash, sale, ready, new_price, buying))
    paid = work.price + work.not_seen
    share = shop.private_share_of_ready_value if private_share is None else private_share
    offers += [_consignment(sale, paid, ready, buying), _alone(ticket_price * share, paid, shop)]
    return TradeIn(sale, ready, tuple(offers), shop.currency)


def _cash(cash: float, sale: float, ready: float, buying: Buying) -> Offer:
    paid = max(0.0, cash)
    earns = sale - ready - paid * (1.0 + buying.holding)
    return Offer("cash", paid, paid, earns)


def _trade(cash: float, sale: float, ready: float, new_price: float, buying: Buying) -> Offer:
    allowed = max(0.0, trade_offer(cash, new_price, buying.margin, buying))
    earns = sale - ready - allowed * (1.0 + buying.holding) + new_price * buying.margin
    return Offer("trade", allowed, allowed, earns)


def _consignment(sale: float, work: float, ready: float, buying: Buying) -> Offer:
    net = consignment_net(sale, buying.commission, work)
    expected = consignment_net(sale, buying.commission, work, buying.chance_of_sale)
    earns = buying.chance_of_sale * sale * buying.commission + work - ready
    return Offer("consignment", net, expected, earns)


def _alone(price: float, work: float, shop: Shop) -> Offer:
    net = price - work
    expected = shop.buying.chance_of_sale * price - work
    return Offer("alone", net, expected, 0.0)
