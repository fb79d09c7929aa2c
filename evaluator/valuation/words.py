"""The words of a verdict: the sentence, its reasons, and what to say to the seller. Short, kind, exact; no jargon."""

from dataclasses import dataclass, replace

from ..assessment.model import Case
from ..basis.show import chance, money
from ..estimate.model import Estimate
from .model import Ruling
from .price_guide import ReadyValue

NAMED_JOBS = 3  # more than this in one spoken sentence, and nobody listens to the price at its end
WORTH_SAYING = 0.15  # possible extras above this share of the cost are named as a reason
LITTLE = 25.0  # in the shop's currency: below this nobody needs to be told what is still unknown
MUCH_UNSEEN = 0.1  # of the price: from here the price hangs on what nobody has looked at
BUYING_TESTS = (4, 5, 6)
OPENING = 0.7  # of the walk-away price, where the target price is nothing to open with (T is about 0.7 W)


@dataclass(frozen=True, slots=True)
class Stop:
    """A check with a disqualifying outcome: the likeliest outcome's words and the chance of any."""

    check: str
    say: str
    probability: float
    likeliest: float


@dataclass(frozen=True, slots=True)
class Told:
    """What the words are made from. `ruling` needs a ready value, `decided` an asking price too.

    `allowing`: the ruling with the usual cost of what nobody has looked at. `unsettled`: that would change the advice,
    or leaves it less than probable that the price is covered. `blank`: nobody has looked at anything yet.
    """

    case: Case
    work: Estimate
    value: ReadyValue | None
    stopped: tuple[Stop, ...]
    stops: tuple[Stop, ...]
    ruling: Ruling | None
    decided: Ruling | None
    probability: float | None
    allowing: Ruling | None = None
    unsettled: bool = False
    blank: bool = False

    def money(self, amount: float) -> str:
        return money(amount, self.work.currency)

    @property
    def asking(self) -> float:
        return float(self.case.asking.amount) if self.case.asking else 0.0


def sentence(told: Told) -> str:
    """The largest words on the page."""
    if told.blank:
        return "Nothing has been looked at yet. Begin with ten minutes."
    ruling = told.decided
    if ruling is None:
        return _without_price(told)
    if ruling.test == 1:
        return f"Walk away: {_small(told.stopped[0].say)}."
    walk_away = told.money(ruling.walk_away)
    if told.unsettled and ruling.test in BUYING_TESTS:
        so_far = {
            4: f"A good buy at {told.money(told.asking)}",
            5: f"A fair price up to {walk_away}",
            6: f"Worth bargaining for, up to {walk_away}",
        }[ruling.test]
        return f"{so_far}, if what nobody has looked at is sound. Look first."
    return {
        2: "Walk away: the work would take more than half of what it will be worth.",
        3: "Walk away: making it right costs more than it will be worth.",
        4: f"A good buy at {told.money(told.asking)}.",
        5: f"A fair price: buy it if it suits you, up to {walk_away}.",
        6: f"Worth bargaining for, up to {walk_away}.",
        7: f"Walk away, unless the price comes down to about {walk_away}.",
    }[ruling.test]


def reasons(told: Told) -> tuple[str, ...]:
    """At most three sentences, the weightiest first."""
    found = [f"{_capital(stop.say)}: {_sure(stop.probability)}." for stop in told.stopped[:2]]
    if told.value is not None:
        ready = told.money(float(told.value.value.amount))
        found.append(f"Ready to play it would be worth about {ready} ({told.value.source}).")
    found.append(_work(told))
    if told.work.unseen_mean > WORTH_SAYING * told.work.with_extras_mean + LITTLE:
        found.append(_unseen(told))
    found += [
        f"One thing could still stop it: {_small(stop.say)} ({chance(stop.probability)})."
        for stop in told.stops
        if stop not in told.stopped
    ][:1]
    if told.probability is not None and told.decided is not None and not told.stopped:
        odds = chance(told.probability)
        found.append(f"How likely it is to be worth {told.money(told.asking)} to you: {odds}.")
    return tuple(found[:3])


def say_to_seller(told: Told) -> str | None:
    """One sentence with the list of work as the reason; None where there is nothing to bargain about."""
    ruling = told.decided
    if ruling is None or told.blank or ruling.test not in (5, 6, 7):
        return None
    if told.unsettled and told.allowing is not None:
        # What is offered may not pass what the reasons allow for the unseen.
        if told.allowing.walk_away <= 0:
            return None
        ruling = replace(told.allowing, test=ruling.test)
    offer = ruling.target if ruling.target > 0 else OPENING * ruling.walk_away
    listed = named_jobs(told.work)
    cost = told.money(told.work.mean)
    because = f"the work it needs ({listed}) comes to about {cost}" if listed else "some of it is still unknown"
    if ruling.test == 5:
        return f"I like it, and {because}: would you allow for that and take {told.money(offer)}?"
    if ruling.test == 6:
        return f"I like it, but {because}, so could we meet at {told.money(offer)}?"
    return f"I like it, but {because}, so to me it is worth no more than {told.money(ruling.walk_away)}."


def named_jobs(work: Estimate) -> str:
    """The dearest jobs in words: 'fit a new bridge, plane the board and 2 more jobs'; empty without any."""
    lines = sorted((line for line in work.lines if not line.shared), key=lambda line: -line.cost.mean)
    named = [_small(line.say) for line in lines[:NAMED_JOBS]]
    more = len(lines) - len(named)
    if more:
        named.append(f"{more} more job" + ("s" if more > 1 else ""))
    if len(named) < 2:
        return "".join(named)
    return f"{', '.join(named[:-1])} and {named[-1]}"


def two_currencies(currency: str) -> str:
    return f"The prices are not all in {currency}, the currency of the work: give them in {currency} to compare them."


def _without_price(told: Told) -> str:
    work = told.work
    if told.stopped and told.case.purpose != "quote":
        return f"Leave it, whatever the price: {_small(told.stopped[0].say)}."
    if told.ruling is not None and told.case.purpose == "buying":
        if told.ruling.walk_away <= 0:
            return "Making it right costs more than it will be worth."
        text = f"As it stands it is worth up to {told.money(told.ruling.walk_away)} to you"
        allowing = told.allowing
        if allowing is not None and allowing.walk_away < (1 - MUCH_UNSEEN) * told.ruling.walk_away:
            return f"{text}, if what nobody has looked at is sound. Look first."
        return f"{text}."
    if not work.lines:
        return "No work is needed to reach the standard, as far as was seen."
    about, most = told.money(work.mean), told.money(work.p80)
    return f"About {about} of work brings it to the standard, in four of five cases no more than {most}."


def _work(told: Told) -> str:
    work = told.work
    if not work.lines and not work.possible_extras:
        return "No work is needed to reach the standard, as far as was seen."
    extra = work.with_extras_mean - work.mean
    about, most = told.money(work.with_extras_mean), told.money(max(work.with_extras_p80, work.with_extras_mean))
    text = f"The work takes about {about}, in four of five cases no more than {most}"
    if extra > WORTH_SAYING * work.with_extras_mean:
        return f"{text}; {told.money(extra)} of it is for what is not yet known."
    return f"{text}."


def _unseen(told: Told) -> str:
    """What the faults that nobody has looked for usually cost, and what that leaves."""
    text = f"What nobody has looked at usually costs about {told.money(told.work.unseen_mean)} more"
    if told.allowing is None or told.stopped:
        return f"{text}."
    if told.allowing.walk_away <= 0:
        return f"{text}; allowing for that, nothing is left to pay."
    return f"{text}; allowing for that, pay no more than {told.money(told.allowing.walk_away)}."


def _sure(probability: float) -> str:
    return "seen" if probability >= 0.95 else f"we think so, {chance(probability)}"


def _small(text: str) -> str:
    """To go on inside a sentence: without the full stop, and without a capital that is not an abbreviation's."""
    text = text.strip().rstrip(".")
    return text[:1].lower() + text[1:] if not text[1:2].isupper() else text


def _capital(text: str) -> str:
    text = text.strip().rstrip(".")
    return text[:1].upper() + text[1:]
