"""The decision as records of the result: its value, other opinions, what buying it there risks, the next looks."""

from collections.abc import Mapping

from ...assessment.model import Assessment, Case, NextCheck
from ...rubric.rubric import Rubric
from ...rubric.written.checks import Check
from ...rubric.written.kinds import OutcomeClass
from ...valuation.model import Because, Decision
from ...valuation.sales.comparables import Adjusted, Reconciled
from ...valuation.worth.guide import GuideReading
from ..evaluation import Evaluation
from ..model.decision import (
    CouldChange,
    KnownSale,
    KnownSales,
    Lasting,
    LastingFault,
    Look,
    PriceRange,
    Reason,
    Risk,
    RiskLevel,
    Turning,
    Verdict,
    Views,
)

LEVELS: Mapping[OutcomeClass, RiskLevel] = {
    "disqualifying": "stops", "fault": "great", "acceptable": "some", "sound": "none"}  # fmt: skip
GRAVEST: tuple[RiskLevel, ...] = ("stops", "great", "some", "none", "open")


def verdict(evaluation: Evaluation) -> Verdict:
    """The decision; what its value rests on is None without a ready value."""
    found, rubric = evaluation.verdict, evaluation.rubric
    ready = found.ready
    return Verdict(
        advice=found.advice,
        asking=found.asking,
        offer=found.offer,
        ceiling=found.ceiling,
        because=tuple(_reason(one, rubric) for one in found.because),
        could_change=tuple(
            CouldChange(
                check=one.check, ask=rubric.checks[one.check].ask, minutes=one.minutes, chance=round(one.chance, 4)
            )
            for one in found.could_change
        ),
        settled=found.settled,
        turning=_turning(found),
        probability_worth_it=None if found.sure is None else round(found.sure, 4),
        ready_value=ready.value,
        ready_range=_range(ready.low, ready.high),
        ready_value_from=ready.source,
        ready_value_kind=ready.kind,
        ready_value_missing=ready.missing,
        with_bow_and_case=ready.with_bow_and_case,
        known_sales=None if ready.sales is None else known_sales(ready.sales),
        lasting=None if ready.reading is None else _lasting(ready.reading, rubric),
        worth=_price(found.worth),
        work=_price(found.work),
        work_dear=_price(found.work_dear),
        unseen=_price(found.unseen),
        seen=round(found.seen, 4),
        hard=found.hard,
        stopped_by=found.stopped_by,
    )


def views(evaluation: Evaluation) -> Views:
    holds = evaluation.verdict_holds
    return Views(
        verdict_holds=None if holds is None else round(holds, 4),
        score_band_holds=round(evaluation.score_band_holds, 4),
    )


def _reason(one: Because, rubric: Rubric) -> Reason:
    check = rubric.checks[one.check] if one.check else None
    return Reason(
        fact=one.fact,
        check=one.check,
        outcome=one.outcome,
        class_=one.class_,
        amount=_price(one.amount),
        most=_price(one.most),
        share=None if one.share is None else round(one.share, 4),
        term=check.term if check else None,
        say=check.outcomes[one.outcome].say if check and one.outcome else None,
    )


def _turning(found: Decision) -> Turning | None:
    turn = found.turning
    if turn is None:
        return None
    return Turning(minutes=turn.minutes, chance=round(turn.chance, 4), gain=round(turn.gain, 2))


def _range(low: float | None, high: float | None) -> PriceRange | None:
    return None if low is None or high is None else PriceRange(low=round(low, 2), high=round(high, 2))


def known_sales(found: Reconciled) -> KnownSales:
    """The sales together, and each with its steps in their order."""
    return KnownSales(
        value=_price(found.value),
        low=round(found.low, 2),
        high=round(found.high, 2),
        mean=round(found.mean, 2),
        median=round(found.median, 2),
        spread=round(found.spread, 2),
        left_out=found.left_out,
        little_moved=found.little_moved,
        again=found.again,
        rows=tuple(_sale(row, found) for row in found.rows),
    )


def _sale(row: Adjusted, found: Reconciled) -> KnownSale:
    one = row.comparable
    return KnownSale(
        key=one.key,
        name=one.name,
        kind=one.kind,
        sold_on=one.sold_on.isoformat(),
        note=one.note,
        grade=round(one.grade, 4),
        price=round(one.price, 2),
        start=round(row.start, 2),
        after_level=round(row.after_level, 2),
        after_date=round(row.after_date, 2),
        after_grade=round(row.after_grade, 2),
        after_condition=round(row.after_condition, 2),
        value=round(row.value, 2),
        gross=round(row.gross, 4),
        much=row.much,
        weight_share=round(found.weight_share(row), 4),
        standing=row.standing,
    )


def _lasting(reading: GuideReading, rubric: Rubric) -> Lasting:
    """Shares of value left together and by each, with the words of what was found; of the class it most likely is."""
    class_ = reading.likeliest.class_
    return Lasting(
        left=round(reading.likeliest.left, 4),
        faults=tuple(
            LastingFault(check=one.check, say=one.say, left=round(1.0 - one.loss(class_), 4), cause=one.accident)
            for one in reading.lasting.faults
        ),
    )


def _price(value: float | None) -> float | None:
    return None if value is None else round(value, 2)


def purchase(evaluation: Evaluation) -> tuple[Risk, ...]:
    """The risks of the purchase; of an owner's own only what was told."""
    found = _risks(evaluation.rubric, evaluation.case, evaluation.assessment)
    return tuple(one for one in found if evaluation.case.purpose != "quote" or one.level != "open")


def _risks(rubric: Rubric, case: Case, found: Assessment) -> tuple[Risk, ...]:
    """Every check that is about the purchase and applies here, the gravest first, then in the order of the rubric."""
    checks = [rubric.checks[name] for name in found.relevant if rubric.checks[name].about == "purchase"]
    return tuple(sorted((_risk(check, case) for check in checks), key=lambda one: GRAVEST.index(one.level)))


def _risk(check: Check, case: Case) -> Risk:
    here = case.instrument
    told = {one.outcome for one in case.observations.get(check.check, ()) if one.outcome in check.outcomes}
    levels = {
        name: LEVELS[one.class_at(here.tier, here.style, here.age)]
        for name, one in check.outcomes.items()
        if name in told
    }
    gravest = min(levels, key=lambda name: GRAVEST.index(levels[name]), default=None)
    outcome = check.outcomes[gravest] if gravest else None
    return Risk(
        check=check.check,
        part=check.part,
        ask=check.ask,
        term=check.term,
        outcome=gravest,
        say=outcome.say if outcome else "",
        means=outcome.means if outcome else None,
        level=levels[gravest] if gravest else "open",
    )


def look(found: NextCheck, rubric: Rubric) -> Look:
    check = rubric.checks[found.check]
    return Look(
        check=found.check,
        ask=check.ask,
        part=check.part,
        minutes=found.minutes,
        gain=round(found.gain, 4),
        gain_unit=found.gain_unit,
        why=found.why,
        stops=round(found.stops, 4),
    )
