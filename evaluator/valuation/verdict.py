"""`decide`: buy, bargain or walk away, with the prices where it turns, how sure it is, and the words for it.

The rule itself is in `rules`; here are V from the case or the guide, K from the estimate with its possible extras, and
the probability from the worlds: the share of them in which what it is worth, less what the work then costs, covers
the price, and nothing disqualifying is there.
"""

import numpy as np
from numpy.typing import NDArray

from ..assessment.model import Assessment, Case
from ..basis.money import Money
from ..estimate.model import Estimate
from ..estimate.pert import Draws, cost
from ..rubric.rubric import Rubric
from ..rubric.shop import Shop
from .model import Ruling, Verdict
from .price_guide import ReadyValue, ready_value
from .rules import rule
from .sales.sales_book import SalesBook
from .scope import cheaper_scope
from .words import Stop, Told, reasons, say_to_seller, sentence, two_currencies

STOPS_FROM = 0.5  # a disqualifying outcome stops the purchase once it is more likely than not
# With things unseen, a buy is not called good before it is probably (as of a reading) worth its price.
SETTLED = 0.75
VALUE_STREAM = 104_729  # keeps the draws of the value apart from those of the prices


def decide(
    rubric: Rubric, case: Case, assessment: Assessment, work: Estimate, shop: Shop, book: SalesBook | None = None
) -> Verdict:
    """The verdict; `advice` is None without an asking price or a ready value, or where currencies differ."""
    value = ready_value(rubric, case, assessment, shop, book)
    stops = stops_of(rubric, assessment)
    stopped = tuple(stop for stop in stops if stop.probability >= STOPS_FROM)
    asking = case.asking
    if not _one_currency(asking, value, work.currency):
        return _undecided(asking, value, two_currencies(work.currency), stopped)
    ready = float(value.value.amount) if value else None
    price = float(asking.amount) if asking else None
    ruling: Ruling | None = None
    if ready is not None:
        ruling = rule(ready, work.with_extras_mean, work.with_extras_p80, price or 0.0, stopped=bool(stopped))
    decided = ruling if price is not None else None
    probability = None
    if value is not None and price is not None:
        probability = chance_worth(rubric, case, assessment, work, value, price)
    allowing: Ruling | None = None
    if ready is not None and work.unseen_mean > 0:
        mean, p80 = work.with_extras_mean + work.unseen_mean, work.with_extras_p80 + work.unseen_mean
        allowing = rule(ready, mean, p80, price or 0.0, stopped=bool(stopped))
    unsettled = (
        decided is not None
        and allowing is not None
        and (allowing.advice != decided.advice or (probability or 0.0) < SETTLED)
    )
    blank = _blank(assessment)
    told = Told(case, work, value, stopped, stops, ruling, decided, probability, allowing, unsettled, blank)
    scope = None
    if decided is not None and decided.advice == "walk_away" and decided.test in (2, 3, 7):
        scope = cheaper_scope(rubric, case, assessment, shop, work, value)
    return Verdict(
        advice=decided.advice if decided else None,
        sentence=sentence(told),
        test=decided.test if decided else None,
        reasons=reasons(told),
        asking=asking,
        ready_value=value.value if value else None,
        ready_value_from=value.source if value else None,
        walk_away_price=ruling.walk_away if ruling else None,
        target_price=ruling.target if ruling else None,
        probability_worth_it=probability,
        stopped_by=tuple(stop.check for stop in stopped),
        say_to_seller=say_to_seller(told),
        change_scope=scope,
        allowing_for_unseen=allowing,
        ready=value,
    )


def _blank(assessment: Assessment) -> bool:
    """Whether nobody has looked at anything; an assessment without beliefs is one made for its prices alone."""
    return bool(assessment.beliefs) and not any(belief.seen for belief in assessment.beliefs.values())


def stops_of(rubric: Rubric, assessment: Assessment) -> tuple[Stop, ...]:
    """Each check with disqualifying outcomes that are at least possible, the likeliest first; chances of one check
    add.
    """
    found: dict[str, Stop] = {}
    for one in assessment.disqualifying:
        before = found.get(one.check)
        likelier = before.say if before and before.likeliest >= one.probability else one.say
        found[one.check] = Stop(
            one.check,
            likelier,
            min(1.0, one.probability + (before.probability if before else 0.0)),
            max(one.probability, before.likeliest if before else 0.0),
        )
    return tuple(sorted(found.values(), key=lambda stop: -stop.probability))


def chance_worth(
    rubric: Rubric, case: Case, assessment: Assessment, work: Estimate, value: ReadyValue, price: float
) -> float:
    """Share of the worlds in which the value, less the work, covers the price and nothing disqualifying is there.

    The work counts with what nobody has looked at yet: the less was seen, the nearer this comes to even.
    """
    count = assessment.worlds.count
    draws = Draws(0.0, assessment.worlds.seed + VALUE_STREAM, count)
    worth = draws.total([("value", cost(value.low, float(value.value.amount), value.high))])
    cost_of_all = work.draws_with_extras if work.draws_with_unseen is None else work.draws_with_unseen
    good = (worth - cost_of_all >= price) & ~disqualified(rubric, case, assessment)
    return float(good.mean())


def disqualified(rubric: Rubric, case: Case, assessment: Assessment) -> NDArray[np.bool_]:
    """The worlds in which any check has a disqualifying outcome."""
    worlds = assessment.worlds
    tier, style = case.instrument.tier, case.instrument.style
    found = np.zeros(worlds.count, dtype=bool)
    for name in worlds.checks:
        for index, outcome in enumerate(rubric.checks[name].outcomes.values()):
            if outcome.class_at(tier, style) == "disqualifying":
                found |= worlds.has(name, index)
    return found


def _one_currency(asking: Money | None, value: ReadyValue | None, currency: str) -> bool:
    return all(money.currency == currency for money in (asking, value.value if value else None) if money is not None)


def _undecided(asking: Money | None, value: ReadyValue | None, words: str, stopped: tuple[Stop, ...]) -> Verdict:
    return Verdict(
        advice=None,
        sentence=words,
        test=None,
        reasons=(),
        asking=asking,
        ready_value=value.value if value else None,
        ready_value_from=value.source if value else None,
        walk_away_price=None,
        target_price=None,
        probability_worth_it=None,
        stopped_by=tuple(stop.check for stop in stopped),
        ready=value,
    )
