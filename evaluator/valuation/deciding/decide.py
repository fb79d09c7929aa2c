"""`decide`: the one decision of a case.

Walk away first, where from two looks on even a sound rest would not save it; then look first, where too little was
seen, where a few minutes could still turn it, or where the price is too good to be true; then the ladder. Whoever
shows, compares or makes an offer takes the figures from the decision.
"""

from collections.abc import Iterator
from math import floor

from ...assessment.looking.information import Looks
from ..model import Because, Decision, Fact
from ..worth.answers import seen_share
from .because import not_known_facts, seen_facts
from .ladder import NOTHING, Advice, Limits, Rung, rung_at, turns_of
from .stops import likely_stop
from .turning import NOTHING_WILL, Turn, could_turn, worth_it
from .weigh import Weighed

FEWEST_LOOKS = 2
WHAT_A_CHEAP_ONE_HIDES = {"soundness": 1.0, "authenticity": 1.0}
MINUTES_AN_HOUR = 60.0


def decide(weighed: Weighed, looks: Looks) -> Decision:
    """The decision; `looks` are those of this case, with what buying gains in each world."""
    currency = weighed.estimate.currency
    if not _one_currency(weighed, currency):
        return _of(weighed, None, None, NOTHING_WILL, two_currencies=True)
    found = None if weighed.limits is None else Limits(said(weighed.limits.ceiling), said(weighed.limits.offer))
    if weighed.asking is None:
        return _of(weighed, None, found, NOTHING_WILL)
    chance = _chance(weighed, weighed.asking)
    advice, turn = _advice(weighed, found, chance, looks)
    return _of(weighed, advice, found, turn, chance=chance)


def said(amount: float) -> float:
    """A price as one says it, rounded down: in units, from 100 on in fives, 1,000 in tens, 10,000 in hundreds."""
    step = next(step for least, step in ((10_000, 100), (1_000, 10), (100, 5), (0, 1)) if amount >= least or not least)
    return float(floor(amount / step) * step) if amount > 0 else 0.0


def _advice(weighed: Weighed, found: Limits | None, chance: float | None, looks: Looks) -> tuple[Advice, Turn]:
    asking = weighed.asking or 0.0
    if any(stop.always for stop in weighed.stopped):
        return "walk_away", NOTHING_WILL
    rung = _rung(weighed, found or NOTHING, chance, asking)
    known = len(weighed.answers) >= FEWEST_LOOKS or weighed.ready.kind == "own_figure"
    if known and rung == "walk_away" and _beyond_saving(weighed, asking):
        return "walk_away", NOTHING_WILL
    if weighed.stopped and found is not None and asking > found.ceiling:
        return rung, NOTHING_WILL  # a look can only find more: what stops it is there
    turn = NOTHING_WILL if weighed.net is None else could_turn(looks, weighed.case, weighed.net)
    if weighed.ready.value is None or weighed.seen < weighed.figure("barely_seen"):
        return "look_first", turn
    if rung == "buy" and _too_cheap(weighed, found) and not _looked_for_its_reason(weighed):
        return "look_first", turn
    if worth_it(turn.together, weighed.shop.rates["set_up"].likely / MINUTES_AN_HOUR, weighed.rubric):
        return "look_first", turn
    return rung, turn


def _rung(weighed: Weighed, found: Limits, chance: float | None, asking: float) -> Rung:
    likely = likely_stop(weighed.stops, weighed.stopped, weighed.rubric)
    return rung_at(asking, found, turns_of(weighed.rubric), chance=chance or 0.0, stop_likely=likely, hard=weighed.hard)


def _beyond_saving(weighed: Weighed, asking: float) -> bool:
    """Whether it would not be worth its price even if all that nobody looked at were sound."""
    if weighed.worlds is None or weighed.sums is None:
        return False
    sound = (weighed.sums.worth - weighed.sums.work) * weighed.factor
    chance = float((weighed.worlds.sound(weighed.factor) >= asking).mean())
    return asking > sound and chance < weighed.figure("no_saving")


def _too_cheap(weighed: Weighed, found: Limits | None) -> bool:
    if found is None or weighed.asking is None:
        return False
    return weighed.asking < weighed.figure("far_too_cheap") * found.ceiling


def _ceiling_for_reason(weighed: Weighed, found: Limits | None) -> float | None:
    """What a price far too low is held to: the ceiling, or what it is probably worth where no figure is carried."""
    if found is not None:
        return found.ceiling
    return (
        weighed.sums.worth_low if weighed.sums is not None and weighed.seen >= weighed.figure("barely_seen") else None
    )


def _looked_for_its_reason(weighed: Weighed) -> bool:
    return seen_share(weighed.rubric, weighed.case, WHAT_A_CHEAP_ONE_HIDES, 1.0) >= weighed.figure("looked_enough")


def _chance(weighed: Weighed, asking: float) -> float | None:
    """The chance that it is worth the price: the share of worlds in which the net is no less."""
    if weighed.worlds is None or weighed.ready.value is None:
        return None
    return float((weighed.worlds.net(weighed.factor) >= asking).mean())


def _one_currency(weighed: Weighed, currency: str) -> bool:
    given = (weighed.case.asking, weighed.ready.value)
    return all(money.currency == currency for money in given if money is not None)


def _of(
    weighed: Weighed,
    advice: Advice | None,
    found: Limits | None,
    turn: Turn,
    *,
    chance: float | None = None,
    two_currencies: bool = False,
) -> Decision:
    shown = found if weighed.ready.value is not None and not two_currencies else None
    asking, sums = weighed.asking, weighed.sums
    if shown is not None and any(stop.always for stop in weighed.stopped):
        shown = NOTHING
    offer = None if shown is None else shown.offer if asking is None else shown.offer_at(asking)
    return Decision(
        advice=advice,
        currency=weighed.estimate.currency,
        asking=weighed.case.asking,
        offer=offer,
        ceiling=None if shown is None else shown.ceiling,
        sure=None if two_currencies else chance,
        because=() if two_currencies else tuple(_because(weighed, shown, chance)),
        could_change=turn.looks,
        settled=advice is not None and not turn.looks,
        turning=turn.together,
        ready=weighed.ready,
        worth=None if shown is None or sums is None else sums.worth,
        work=weighed.estimate.with_extras_mean * weighed.taxed,
        work_dear=max(weighed.estimate.with_extras_p80, weighed.estimate.with_extras_mean) * weighed.taxed,
        unseen=weighed.unseen,
        seen=weighed.seen,
        hard=weighed.hard,
        stopped_by=tuple(stop.check for stop in weighed.stopped),
        two_currencies=two_currencies,
    )


def _because(weighed: Weighed, found: Limits | None, chance: float | None) -> Iterator[Because]:
    reading = weighed.ready.reading if weighed.ready.kind != "own_figure" else None
    yield from seen_facts(weighed.rubric, weighed.case, weighed.assessment, weighed.answers, weighed.stopped, reading)
    yield from not_known_facts(weighed.stops, weighed.stopped, weighed.seen, weighed.figure("barely_seen"))
    most = _ceiling_for_reason(weighed, found)
    if weighed.asking is not None and most is not None and weighed.asking < weighed.figure("far_too_cheap") * most:
        yield Because(Fact.FAR_TOO_CHEAP, amount=weighed.asking, share=weighed.asking / most)
    if weighed.ready.value is None:
        yield Because(Fact.NO_VALUE)
    yield from _money(weighed, found, chance)


def _money(weighed: Weighed, found: Limits | None, chance: float | None) -> Iterator[Because]:
    sums, ready = weighed.sums, weighed.ready
    if ready.value is not None and sums is not None:
        value = float(ready.value.amount)
        yield Because(Fact.READY, amount=value)
        if ready.kind != "own_figure" and not weighed.with_shop:
            yield Because(Fact.NO_SHOP, amount=sums.worth, share=sums.worth / value if value > 0 else None)
    work = weighed.estimate.with_extras_mean * weighed.taxed
    if work >= 1.0:
        dear = max(work, weighed.estimate.with_extras_p80 * weighed.taxed)
        yield Because(Fact.WORK, amount=work, most=dear)
    if sums is not None and sums.much_work:
        yield Because(Fact.MUCH_WORK, amount=work)
    if weighed.unseen >= 1.0:
        yield Because(Fact.UNSEEN, amount=weighed.unseen)
    if found is not None and found.ceiling <= 0.0:
        yield Because(Fact.NOTHING_LEFT)
    if chance is not None:
        yield Because(Fact.CHANCE, share=chance)
