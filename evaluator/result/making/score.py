"""What an assessment holds, as records of the result: rounded for reading, with the rubric's words beside each id."""

from collections.abc import Iterable, Mapping

from ...assessment import model as assessed
from ...rubric import model as written
from ...rubric.rubric import Rubric
from ...rubric.show import cure_words
from ..model.score import Answer, Cause, Chance, Check, DomainScore, Finding, Measured, Span, Step, Trail


def span(value: assessed.Range) -> Span:
    return Span(expected=round(value.expected, 2), low=round(value.low, 2), high=round(value.high, 2))


def domain_score(now: assessed.Range, after: assessed.Range) -> DomainScore:
    return DomainScore(as_it_stands=span(now), after_work=span(after))


def finding(found: assessed.Finding, rubric: Rubric) -> Finding:
    """The finding with the words of its check and of the jobs that cure it."""
    check = rubric.checks[found.check]
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


def cause(item: assessed.CauseBelief, said: written.Cause, why: Iterable[Step]) -> Cause:
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
    check: written.Check,
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
        minutes=check.minutes,
        seen=belief.seen,
        clash=belief.clash,
        postponed=belief.postponed,
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


def _answer(seen: assessed.Observation, check: written.Check) -> Answer:
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
