"""The verdict, what its value rests on, and how far other weightings change it, as records of the result."""

from typing import cast

from ...valuation.model import Advice, Ruling
from ...valuation.price_guide import ReadyValue
from ...valuation.sales.comparables import Adjusted, Reconciled
from ..evaluation import Evaluation, weights_matter
from ..model.decision import Allowing, KnownSale, KnownSales, Lasting, LastingFault, Turn, Verdict, Views


def verdict(evaluation: Evaluation) -> Verdict:
    """The verdict with its prices rounded to the cent; what it rests on is None without a ready value."""
    found = evaluation.verdict
    ready, worth_it = found.ready, found.probability_worth_it
    low, high = (None, None) if ready is None else _band(ready)
    return Verdict(
        advice=found.advice,
        sentence=found.sentence,
        reasons=found.reasons,
        test=found.test,
        asking=found.asking,
        ready_value=found.ready_value,
        ready_value_from=found.ready_value_from,
        ready_value_kind=None if ready is None else ready.kind,
        ready_value_low=_price(low),
        ready_value_high=_price(high),
        known_sales=None if ready is None or ready.sales is None else known_sales(ready.sales),
        lasting=None if ready is None else _lasting(ready),
        walk_away_price=_price(found.walk_away_price),
        target_price=_price(found.target_price),
        probability_worth_it=None if worth_it is None else round(worth_it, 4),
        stopped_by=found.stopped_by,
        say_to_seller=found.say_to_seller,
        change_scope=found.change_scope,
        allowing_for_unseen=_allowing(found.allowing_for_unseen),
    )


def views(evaluation: Evaluation) -> Views:
    holds = evaluation.verdict_holds
    return Views(
        verdict_holds=None if holds is None else round(holds, 4),
        score_band_holds=round(evaluation.score_band_holds, 4),
        weights_matter=weights_matter(evaluation.verdict),
        turns=tuple(
            Turn(
                domain=turn.domain,
                share_now=round(turn.share_now, 4),
                share_then=round(turn.share_then, 4),
                advice=cast(Advice, turn.to),  # the judge of these turns gives an advice
            )
            for turn in evaluation.turns
        ),
    )


def known_sales(found: Reconciled) -> KnownSales:
    """The sales together, and each with its steps in their order."""
    return KnownSales(
        value=round(found.value, 2),
        low=round(found.low, 2),
        high=round(found.high, 2),
        mean=round(found.mean, 2),
        median=round(found.median, 2),
        spread=round(found.spread, 2),
        left_out=found.left_out,
        little_moved=found.little_moved,
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
    )


def _band(ready: ReadyValue) -> tuple[float, float]:
    """The near-limits of the value: those of the sales where they are what it was taken from."""
    if ready.kind == "comparables" and ready.sales:
        return ready.sales.low, ready.sales.high
    return ready.low, ready.high


def _lasting(ready: ReadyValue) -> Lasting:
    """Shares of value left together and by each, with the words of what was found."""
    found = ready.lasting
    return Lasting(
        left=round(found.left, 4),
        least=round(found.least, 4),
        most=round(found.most, 4),
        faults=tuple(
            LastingFault(check=one.check, say=one.say, left=round(1.0 - one.loss.likely, 4), cause=one.cause)
            for one in found.faults
        ),
    )


def _allowing(ruling: Ruling | None) -> Allowing | None:
    if ruling is None:
        return None
    return Allowing(
        advice=ruling.advice, walk_away_price=round(ruling.walk_away, 2), target_price=round(ruling.target, 2)
    )


def _price(value: float | None) -> float | None:
    return None if value is None else round(value, 2)
