"""What a person must take in within twenty seconds: three reasons in things seen, one line of money, what could still
turn the answer, and how sure it is. Page and paper draw the same.
"""

from collections.abc import Iterator
from dataclasses import dataclass

from ...basis.show import chance, minutes, money
from ...result.model.decision import CouldChange, Look, Reason
from ...result.model.result import Result
from ...valuation.model import Fact
from ..phrases import capital, ended, listed, small
from ..words import found_title

REASONS = 3
TELLING = 5  # looks named where there is no answer yet
SURE, RATHER, HARDLY = 0.9, 0.65, 0.35
GOOD_MAKING = frozenset({"workshop", "fine_workshop", "maker"})


@dataclass(frozen=True, slots=True)
class Seen:
    """One reason: the sentence, and the check and outcome that it rests on; `good` where that is as it should be."""

    text: str
    check: str | None
    outcome: str | None
    good: bool
    photos: tuple[str, ...] = ()


def first_reasons(result: Result) -> tuple[Seen, ...]:
    """At most three, the gravest first; the last is a good one where anything good was seen and nothing stops it."""
    found = list(_reasons(result))
    bad, good = [one for one in found if not one.good], [one for one in found if one.good]
    stopped = any(one.fact is Fact.STOPS for one in result.verdict.because)
    kept = bad[:REASONS] if stopped or not good else bad[: REASONS - 1]
    return (*kept, *good[: REASONS - len(kept)])


def _reasons(result: Result) -> Iterator[Seen]:
    """The facts that are about things seen, each as a sentence, in the order of the decision."""
    signs = [one for one in result.verdict.because if one.fact is Fact.SIGN]
    for one in result.verdict.because:
        if one.fact in (Fact.STOPS, Fact.LASTS, Fact.FAULT):
            yield _seen(result, one, ended(_title(result, one)), good=False)
        elif one.fact is Fact.MADE and one.class_:
            says = {class_.making: class_.say for class_ in result.making.classes}
            sign = signs[0] if signs else one
            because = f" {ended(_title(result, sign))}" if signs else ""
            text = f"Most likely {says.get(one.class_, one.class_)}.{because}"
            yield _seen(result, sign, text, good=one.class_ in GOOD_MAKING)
        elif one.fact is Fact.GOOD:
            yield _seen(result, one, f"As it should be: {small(_title(result, one))}.", good=True)
        elif one.fact is Fact.SOUNDS_BAD:
            yield Seen("It sounds poor.", None, None, good=False)


def _seen(result: Result, one: Reason, text: str, *, good: bool) -> Seen:
    photos = next((name for check in result.checks if check.check == one.check for name in _photos(check)), None)
    return Seen(capital(text), one.check, one.outcome, good, (photos,) if photos else ())


def _photos(check: object) -> Iterator[str]:
    for answer in getattr(check, "observations", ()):
        yield from answer.photos


def _title(result: Result, one: Reason) -> str:
    return found_title(result, one.check or "", one.outcome)


def money_line(result: Result) -> str | None:
    """'Offer $640, and pay no more than $700; asked $900.' None where there is no price to name."""
    verdict, currency = result.verdict, result.plan.currency
    if result.purpose == "quote" or verdict.advice == "look_first" or not verdict.ceiling:
        return None
    most = money(verdict.ceiling, currency)
    asked = f"; asked {money(float(verdict.asking.amount), verdict.asking.currency)}" if verdict.asking else ""
    if verdict.offer is not None and verdict.asking and verdict.advice in ("negotiate", "buy_if_it_suits"):
        return f"Offer {money(verdict.offer, currency)}, and pay no more than {most}{asked}."
    return f"Pay no more than {most}{asked}."


def turning_line(result: Result) -> str | None:
    """What could still turn the answer, or that nothing will; None where there is no answer yet."""
    verdict = result.verdict
    if verdict.advice is None:
        return None
    if verdict.advice == "look_first":
        return _telling_line(result)
    if verdict.could_change:
        first = verdict.could_change[0]
        return f"What could still turn it: {first.ask} ({minutes(first.minutes)})"
    return "No further look will turn this." if verdict.settled else None


def _telling_line(result: Result) -> str | None:
    """'What tells most now: scroll, f-holes, centre joint, about 3 minutes.' None where nothing more can be seen.

    What needs no tool alone, where there is any such.
    """
    known = {check.check: check for check in result.checks}
    looks: tuple[CouldChange | Look, ...] = (result.verdict.could_change or result.next_checks)[:TELLING]
    looks = tuple(one for one in looks if known[one.check].kind != "measure") or looks
    if not looks:
        return None
    names = [small((known[one.check].term or one.check.replace("_", " ")).partition(",")[0]) for one in looks]
    return f"What tells most now: {listed(names)}, about {minutes(sum(one.minutes for one in looks))}."


def is_over(result: Result) -> bool:
    """Whether it is to be left, and nothing that could be seen or told would turn that."""
    verdict = result.verdict
    return verdict.advice == "walk_away" and verdict.settled and not verdict.could_change


def sure_line(result: Result) -> str | None:
    """How sure it is that it is worth what is asked, in words with the chance beside them."""
    sure = result.verdict.probability_worth_it
    if sure is None or result.verdict.advice in (None, "look_first"):
        return None
    word = "quite sure" if sure >= SURE else "likely" if sure >= RATHER else "open" if sure >= HARDLY else "unlikely"
    return f"That it is worth what is asked: {word} ({chance(sure)})."


def seen_line(result: Result) -> str:
    """How much of it was looked at, in checks."""
    seen = sum(1 for check in result.checks if check.seen)
    return f"{seen} of {len(result.checks)} checks looked at."
