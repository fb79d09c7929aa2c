"""What an assessment holds, as records of the result: rounded for reading, with the rubric's words beside each id.

The trace of each check and cause is told in few words, for pages that open "why this number?" beside a figure.
`assessment.reasons.why` holds the whole tree. Here it is cut to what a check does not share with others: its cause is
named, and told once by itself.
"""

import math
from collections.abc import Iterable, Mapping, Sequence

from ...assessment import model as assessed
from ...assessment.reasons.steps import AnswersCount
from ...assessment.reasons.why import Reason, Trace
from ...rubric.rubric import Rubric
from ...rubric.show import cure_words
from ...rubric.written.checks import Check as WrittenCheck
from ...rubric.written.checks import Likeness as DrawnOutcomes
from ...rubric.written.surroundings import Cause as WrittenCause
from ..model.score import (
    Answer,
    Band,
    Cause,
    Chance,
    Check,
    Deduction,
    DomainScore,
    Finding,
    Likeness,
    Measured,
    Place,
    Score,
    Span,
    Step,
    Trail,
)


def span(value: assessed.Range) -> Span:
    return Span(expected=round(value.expected, 2), low=round(value.low, 2), high=round(value.high, 2))


def whole(value: assessed.Range, found: assessed.Assessment) -> Score:
    """The score, as it stands or after the work; without a number where too little was seen."""
    expected = round(value.expected, 2) if found.enough else None
    return Score(expected=expected, low=round(value.low, 2), high=round(value.high, 2))


def deductions(found: assessed.Assessment) -> tuple[Deduction, ...]:
    """What was taken, in hundredths of a point that add up exactly to what is missing; nothing without a number."""
    if not found.enough:
        return ()
    cents = in_cents([one.points for one in found.deductions], round(100 * (100 - round(found.score.expected, 2))))
    return tuple(
        Deduction(
            check=one.check,
            outcome=one.outcome,
            domain=one.domain,
            points=cent / 100,
            waits=one.waits,
            set_aside=one.set_aside,
        )
        for one, cent in zip(found.deductions, cents, strict=True)
        if cent
    )


def in_cents(points: Sequence[float], total: int) -> list[int]:
    """Amounts in whole hundredths that add up to `total`: the largest remainders are rounded up."""
    floors = [math.floor(100 * one) for one in points]
    by_rest = sorted(range(len(points)), key=lambda i: floors[i] - 100 * points[i])
    for i in by_rest[: max(0, total - sum(floors))]:
        floors[i] += 1
    return floors


def band(found: assessed.Assessment, rubric: Rubric) -> Band | None:
    """The band of the score in words, None where there is no number or no band."""
    if not found.enough or found.band is None:
        return None
    one = rubric.bands[found.band]
    return Band(band=one.band, say=one.say, at_least=one.at_least)


def place(found: assessed.Assessment) -> Place | None:
    """The place among its own class, None where there is no number or no class."""
    likeliest = found.making.likeliest
    if not found.enough or likeliest is None or found.better_in_class is None:
        return None
    return Place(making=likeliest, better=round(found.better_in_class), of=100)


def domain_score(now: assessed.Range, after: assessed.Range) -> DomainScore:
    return DomainScore(as_it_stands=span(now), after_work=span(after))


def finding(found: assessed.Finding, rubric: Rubric, all_of_it: assessed.Assessment) -> Finding:
    """The finding with the words of its check and of the jobs that cure it, and the points that it took."""
    check = rubric.checks[found.check]
    taken = [one.points for one in all_of_it.deductions if (one.check, one.outcome) == (found.check, found.outcome)]
    return Finding(
        term=check.term,
        part=check.part,
        means=found.means,
        inherent=found.inherent,
        urgency=found.urgency,
        cures=tuple(cure_words(rubric, cure) for cure in found.cured_by),
        check=found.check,
        outcome=found.outcome,
        class_=found.class_,
        probability=round(found.probability, 4),
        level=found.level,
        say=found.say,
        required=found.required,
        seen=found.seen,
        cured_by=found.cured_by,
        points=round(math.fsum(taken), 2) if all_of_it.enough else None,
        waits=found.waits,
    )


def measured(item: assessed.Conformity, rubric: Rubric) -> Measured:
    """The reading with the question that it answers and the sources of its standard."""
    check = rubric.checks[item.check]
    return Measured(
        check=item.check,
        ask=check.ask,
        term=check.term,
        probability=round(item.probability, 4),
        statement=item.statement,
        value=round(item.value, 4),
        standard_uncertainty=round(item.u, 4),
        unit=item.unit,
        low=item.low,
        high=item.high,
        target=item.target,
        confidence=item.confidence,
        settle=item.settle,
        sources=tuple(rubric.source_text(source) for source in item.sources),
    )


def cause(item: assessed.CauseBelief, said: WrittenCause, why: Iterable[Step]) -> Cause:
    return Cause(
        say=said.say,
        if_not=said.if_not,
        about=said.about,
        prior=round(item.prior, 4),
        probability=round(item.probability, 4),
        signs=item.signs,
        why=tuple(why),
    )


def check_held(
    check: WrittenCheck,
    likeness: DrawnOutcomes | None,
    belief: assessed.Belief,
    seen: Iterable[assessed.Observation],
    trail: Trail,
    counts: Mapping[str, float],
) -> Check:
    """A check with what was recorded for it, what is believed and why."""
    return Check(
        check=check.check,
        part=check.part,
        ask=check.ask,
        term=check.term,
        kind=check.kind,
        drawing=check.drawing,
        likeness=Likeness(drawing=likeness.drawing, outcomes=likeness.shows) if likeness else None,
        minutes=check.minutes,
        seen=belief.seen,
        clash=belief.clash,
        postponed=belief.postponed,
        waits_for=belief.waits_for,
        observations=tuple(_answer(one, check) for one in seen),
        belief=tuple(
            Chance(
                outcome=name,
                say=check.outcomes[name].say,
                probability=round(share, 4),
                counts=round(counts[name], 4),
            )
            for name, share in belief.probability.items()
        ),
        worth=round(belief.worth, 4),
        worth_after_work=round(belief.worth_after, 4),
        because=belief.because,
        why=trail,
    )


def _answer(seen: assessed.Observation, check: WrittenCheck) -> Answer:
    if seen.reading is not None:
        answer = ", ".join(seen.reading.texts)
    else:
        answer = check.outcomes[seen.outcome].say if seen.outcome in check.outcomes else ""
    return Answer(
        answer=answer,
        outcome=seen.outcome,
        seen_by=seen.seen_by,
        tool=seen.reading.tool if seen.reading else None,
        note=seen.note,
        photos=seen.photos,
        by=seen.by,
        at=seen.at,
    )


def step(reason: Reason) -> Step:
    """The fact of a reason with the steps below it."""
    return Step(fact=reason.fact, because=tuple(step(part) for part in reason.parts))


def check_trail(trace: Trace, place: int) -> Trail:
    """For the check at this place of those that count: the share of the score it carries (0..1), the points it takes,
    its cause, the steps. The facts of its belief and what each answer counts are not among them: the check has them.
    """
    name = trace.assessment.relevant[place]
    share = float(trace.known.weights.total[place])
    cause = trace.rubric.checks[name].cause
    statement, rules = trace.own_parts(name)
    return Trail(
        share=round(share, 4),
        takes=round(math.fsum(one.points for one in trace.assessment.deductions if one.check == name), 2),
        cause=cause if cause in trace.assessment.causes else None,
        steps=tuple(step(part) for part in (*statement, *rules) if not isinstance(part.fact, AnswersCount)),
    )


def cause_trail(trace: Trace, name: str) -> tuple[Step, ...]:
    """The signs that moved a cause, the strongest first, and what was held before any look."""
    return tuple(step(part) for part in trace.cause(name).parts)
