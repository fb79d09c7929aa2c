"""Why: the facts behind a decision in their order, things seen before money, the good ones among them."""

from collections.abc import Iterator, Mapping, Sequence

from ...assessment.model import Assessment, Case
from ...rubric.rubric import Rubric
from ..model import Because, Fact
from ..worth.answers import Answer, general_worth
from ..worth.guide import GuideReading
from ..worth.lasting import LEAST_LOSS
from .stops import StopSign

NAMED = 2  # of each kind: more than a handful of reasons is none
SURE_ENOUGH = 0.5  # an answer that is hardly reliable is no reason
POSSIBLE = 0.05  # from this chance on something that could stop it is named
FAULTS = ("fault", "disqualifying")


def seen_facts(
    rubric: Rubric,
    case: Case,
    assessment: Assessment,
    answers: Mapping[str, Answer],
    stopped: Sequence[StopSign],
    reading: GuideReading | None,
) -> Iterator[Because]:
    """What was seen: stops, how it was made and its signs, what lasts, other faults, what is good."""
    told = set()
    for stop in stopped[:NAMED]:
        told.add(stop.check)
        share = 1.0 if stop.always else None
        yield Because(Fact.STOPS, stop.check, stop.outcome, amount=None, most=None, share=share or stop.probability)
    for one in _made(assessment, told):
        told.add(one.check or "")
        yield one
    if reading is not None:
        for one in _lasting(reading, told):
            told.add(one.check or "")
            yield one
        if reading.tone <= rubric.figure("sounds_bad"):
            yield Because(Fact.SOUNDS_BAD, share=reading.tone)
    yield from _faults(case, answers, told)
    yield from _good(answers, told)


def _made(assessment: Assessment, told: set[str]) -> Iterator[Because]:
    making = assessment.making
    if making.likeliest is None or not making.signs:
        return
    yield Because(Fact.MADE, class_=making.likeliest, share=making.shares[making.likeliest])
    speaking = [sign for sign in making.signs if sign.weight > 0 and sign.check not in told]
    for sign in speaking[:NAMED]:
        yield Because(Fact.SIGN, sign.check, sign.outcome, class_=making.likeliest)


def _lasting(reading: GuideReading, told: set[str]) -> Iterator[Because]:
    class_ = reading.likeliest.class_
    faults = [one for one in reading.lasting.faults if one.check not in told and one.loss(class_) >= LEAST_LOSS]
    for one in faults[:NAMED]:
        yield Because(Fact.LASTS, one.check, one.outcome, share=1.0 - one.loss(class_))


def _faults(case: Case, answers: Mapping[str, Answer], told: set[str]) -> Iterator[Because]:
    here = case.instrument
    faults = [
        one
        for one in answers.values()
        if one.check.check not in told
        and one.sure >= SURE_ENOUGH
        and one.outcome.class_at(here.tier, here.style, here.age) in FAULTS
    ]
    for one in sorted(faults, key=lambda one: -_weight(one) * (1.0 - general_worth(one.outcome)))[:NAMED]:
        yield Because(Fact.FAULT, one.check.check, one.name)


def _good(answers: Mapping[str, Answer], told: set[str]) -> Iterator[Because]:
    good = [
        one
        for one in answers.values()
        if one.check.check not in told
        and one.outcome.class_ == "sound"
        and one.sure >= SURE_ENOUGH
        and one.check.part != "papers"
    ]
    for one in sorted(good, key=lambda one: -_weight(one))[:NAMED]:
        yield Because(Fact.GOOD, one.check.check, one.name)


def _weight(one: Answer) -> float:
    return one.check.usual_weight * max(one.check.evidence_of.values(), default=0.0) * one.sure


def not_known_facts(
    stops: Sequence[StopSign], stopped: Sequence[StopSign], seen: float, floor: float
) -> Iterator[Because]:
    """What is not known yet: how little was seen, and the one thing that could still stop it."""
    if seen < floor:
        yield Because(Fact.BARELY_SEEN, share=seen)
    open_ = [stop for stop in stops if stop not in stopped and stop.probability >= POSSIBLE]
    for stop in open_[:1]:
        yield Because(Fact.MAY_STOP, stop.check, stop.outcome, share=stop.probability)
