"""The words of a decision: the largest sentence, its reasons, and what to say to the seller. Short, kind, exact.

Facts come in, sentences go out, and no sentence is ever read back. One offer and one ceiling are all the prices that
may be named beside what is asked.
"""

from collections.abc import Iterator
from dataclasses import dataclass

from ..assessment.model import Case
from ..basis.show import chance, minutes, money
from ..estimate.model import Estimate
from ..rubric.rubric import Rubric
from .model import Because, Decision, Fact

MUCH_SEEN = 0.4  # of soundness and set-up: who has seen that much is not told that it is too little
NAMED_JOBS = 3  # more than this in one spoken sentence, and nobody listens to the price at its end
MOST_REASONS = 6
SURE = 0.95
NO_VALUE = {
    "nothing_seen": "Too little was looked at to say what it is worth.",
    "too_wide": "What was seen so far fits one worth little and one worth many times that, so there is no figure yet.",
    "no_guide": "The shop has no guide for such an instrument, so there is no figure.",
}


@dataclass(frozen=True, slots=True)
class Told:
    """What the words are made from. `about` and `most`: what the buyer pays for the planned work, with tax: the likely
    sum, and the one that four of five such orders stay under."""

    decision: Decision
    rubric: Rubric
    case: Case
    work: Estimate
    about: float
    most: float

    def money(self, amount: float | None) -> str:
        return money(amount or 0.0, self.decision.currency)

    @property
    def asking(self) -> str:
        return self.money(float(self.case.asking.amount) if self.case.asking else 0.0)

    def of(self, fact: Fact) -> tuple[Because, ...]:
        return tuple(one for one in self.decision.because if one.fact is fact)

    def title(self, one: Because) -> str:
        """'Soundpost crack, back: patched'."""
        check = self.rubric.checks[one.check or ""]
        subject = check.term or check.check.removeprefix("bow_").replace("_", " ")
        return f"{subject[:1].upper()}{subject[1:]}: {_small(check.outcomes[one.outcome or ''].say)}"


def sentence(told: Told) -> str:
    """The largest words on the page."""
    decision = told.decision
    if decision.two_currencies:
        return two_currencies(decision.currency)
    if not told.case.observations and told.case.purpose == "buying":
        return "Nothing has been looked at yet. Begin with ten minutes."
    if decision.advice is None:
        return _without_price(told)
    return {
        "look_first": _look_first,
        "buy": lambda one: f"A good buy at {one.asking}.",
        "buy_if_it_suits": lambda one: f"A fair price: buy it if it suits you, up to {one.money(decision.ceiling)}.",
        "negotiate": _bargain,
        "walk_away": _walk_away,
    }[decision.advice](told)


def _bargain(told: Told) -> str:
    offer, ceiling = told.money(told.decision.offer), told.money(told.decision.ceiling)
    return f"Worth bargaining for: offer {offer}, and pay no more than {ceiling}."


def _look_first(told: Told) -> str:
    if told.of(Fact.FAR_TOO_CHEAP):
        return f"Look first: {told.asking} is far too little for what it seems to be."
    if told.of(Fact.NO_VALUE) and told.decision.seen >= MUCH_SEEN and not told.of(Fact.BARELY_SEEN):
        return "Look first: it may be worth far more or far less. Ask somebody who values instruments."
    if told.of(Fact.NO_VALUE) or told.of(Fact.BARELY_SEEN) or told.decision.turning is None:
        return "Look first: too little of it was seen to advise you."
    return f"Look first: {minutes(told.decision.turning.minutes)} more may well turn the answer."


def _walk_away(told: Told) -> str:
    decision, stops = told.decision, told.of(Fact.STOPS)
    if stops:
        return f"Walk away: {_small(told.title(stops[0]))}."
    if told.of(Fact.NOTHING_LEFT):
        return "Walk away: making it right costs more than it will be worth."
    if not decision.ceiling:
        return f"Walk away: even if all the rest is sound, it is not worth {told.asking}."
    return f"Walk away, unless the price comes down to about {told.money(decision.ceiling)}."


def _without_price(told: Told) -> str:
    work, decision = told.work, told.decision
    stops = told.of(Fact.STOPS)
    if stops and told.case.purpose != "quote":
        how = "whatever the price" if decision.ceiling in (None, 0.0) else "but at the price of such an instrument"
        return f"Leave it, {how}: {_small(told.title(stops[0]))}."
    if decision.ceiling is not None and told.case.purpose == "buying":
        if decision.ceiling <= 0:
            return "Making it right costs more than it will be worth."
        return f"As it stands it is worth up to {told.money(decision.ceiling)} to you."
    if not work.lines:
        return "No work is needed to reach the standard, as far as was seen."
    about, most = told.money(told.about), told.money(told.most)
    return f"About {about} of work brings it to the standard, in four of five cases no more than {most}."


def two_currencies(currency: str) -> str:
    return f"The prices are not all in {currency}, the currency of the work: give them in {currency} to compare them."


def reasons(told: Told) -> tuple[str, ...]:
    """The reasons in their order, things seen before money; a handful at most."""
    if not told.case.observations and told.case.purpose == "buying":
        return ()
    seen, money_ = list(_seen(told)), list(_money(told))
    return (*seen[: MOST_REASONS - len(money_)], *money_)


def _seen(told: Told) -> Iterator[str]:
    for one in told.of(Fact.STOPS):
        how = "" if (one.share or 1.0) >= SURE else f" (we think so, {chance(one.share or 1.0)})"
        yield f"{told.title(one)}{how}."
    yield from _made(told)
    for one in told.of(Fact.LASTS):
        yield f"{told.title(one)}. Well mended, that leaves about {100 * (one.share or 0):.0f} of 100 of its value."
    for one in told.of(Fact.SOUNDS_BAD):
        yield f"It sounds poor; that leaves about {100 * (one.share or 0):.0f} of 100 of what its like brings."
    for fact, start in ((Fact.FAULT, "Not as it should be"), (Fact.GOOD, "As it should be")):
        named = "; ".join(_small(told.title(one)) for one in told.of(fact))
        if named:
            yield f"{start}: {named}."
    for one in told.of(Fact.MAY_STOP):
        yield f"One thing could still stop it: {_small(told.title(one))} ({chance(one.share or 0.0)})."
    for _ in told.of(Fact.BARELY_SEEN):
        yield "Hardly anybody has looked yet at whether it is sound and plays well."


def _made(told: Told) -> Iterator[str]:
    for one in told.of(Fact.MADE):
        class_ = told.rubric.classes[one.class_ or ""]
        signs = "; ".join(_small(told.title(sign)) for sign in told.of(Fact.SIGN))
        because = f". For that speak: {signs}" if signs else ""
        yield f"Most likely {class_.say} ({chance(one.share or 0.0)}){because}."


def _money(told: Told) -> Iterator[str]:
    """What it is worth, what comes off, and the chance, each once."""
    for _ in told.of(Fact.FAR_TOO_CHEAP):
        yield f"{told.asking} is far less than such an instrument brings. There is a reason: find it before you pay."
    missing = told.decision.ready.missing
    if missing is not None and told.of(Fact.NO_VALUE):
        yield NO_VALUE[missing]
    worth = _worth(told)
    if worth:
        yield worth
    off = _comes_off(told)
    if off:
        yield off
    for one in told.of(Fact.CHANCE):
        yield f"How likely it is to be worth {told.asking} to you: {chance(one.share or 0.0)}."


def _worth(told: Told) -> str:
    ready = next(iter(told.of(Fact.READY)), None)
    if ready is None:
        return ""
    text = f"Ready to play it would be worth about {told.money(ready.amount)} ({told.decision.ready.source})"
    for one in told.of(Fact.NO_SHOP):
        text += f"; without a shop that stands behind it, about {told.money(one.amount)}"
    return f"{text}."


def _comes_off(told: Told) -> str:
    parts = [
        f"with what may come on top, the work takes about {told.money(one.amount)}, "
        f"in four of five cases no more than {told.money(one.most)}"
        for one in told.of(Fact.WORK)
    ]
    parts += [f"what nobody has looked at usually costs about {told.money(one.amount)}" for one in told.of(Fact.UNSEEN)]
    if told.of(Fact.MUCH_WORK):
        parts.append("that much work leaves no room for a surprise")
    text = "; ".join(parts)
    return f"{text[:1].upper()}{text[1:]}." if text else ""


def say_to_seller(told: Told) -> str | None:
    """One sentence with the reason and the offer; None where there is nothing to bargain about."""
    decision = told.decision
    if decision.advice not in ("buy_if_it_suits", "negotiate", "walk_away") or not decision.offer:
        return None
    listed = named_jobs(told.work)
    cost = told.money(told.about)
    because = f"the work it needs ({listed}) comes to about {cost}" if listed else "some of it is still unknown"
    stops = told.of(Fact.STOPS) or told.of(Fact.LASTS)
    if stops:
        because = f"it has this ({_small(told.title(stops[0]))}), which stays in its value"
    if decision.advice == "buy_if_it_suits":
        return f"I like it, and {because}: would you allow for that and take {told.money(decision.offer)}?"
    if decision.advice == "negotiate":
        return f"I like it, but {because}, so could we meet at {told.money(decision.offer)}?"
    return f"I like it, but {because}, so to me it is worth no more than {told.money(decision.ceiling)}."


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


def _small(text: str) -> str:
    """To go on inside a sentence: without the full stop, and without a capital that is not an abbreviation's."""
    text = text.strip().rstrip(".")
    return text[:1].lower() + text[1:] if not text[1:2].isupper() else text
