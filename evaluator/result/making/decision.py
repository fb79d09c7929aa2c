"""The decision, what its value rests on, and how far other opinions change it, as records of the result."""

from ...rubric.rubric import Rubric
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
    PriceRange,
    Reason,
    Turning,
    Verdict,
    Views,
)


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
