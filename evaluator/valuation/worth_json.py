"""What a ready value rests on, as plain JSON values: known sales step by step, and the faults that stay in it."""

from typing import Any

from .comparables import Adjusted, Reconciled
from .condition import Lasting
from .price_guide import ReadyValue


def ready_json(ready: ReadyValue | None) -> dict[str, Any]:
    """The source by its name, the near-limits of the value, known sales and lasting faults; empty without a value."""
    if ready is None:
        names = ("ready_value_kind", "ready_value_low", "ready_value_high", "known_sales", "lasting")
        return dict.fromkeys(names)
    sales = ready.sales
    band = (sales.low, sales.high) if ready.kind == "comparables" and sales else (ready.low, ready.high)
    return {
        "ready_value_kind": ready.kind,
        "ready_value_low": round(band[0], 2),
        "ready_value_high": round(band[1], 2),
        "known_sales": None if sales is None else sales_json(sales),
        "lasting": lasting_json(ready.lasting),
    }


def lasting_json(lasting: Lasting) -> dict[str, Any]:
    """Shares of value left together and by each, with the words of what was found."""
    return {
        "left": round(lasting.left, 4),
        "least": round(lasting.least, 4),
        "most": round(lasting.most, 4),
        "faults": [
            {"check": one.check, "say": one.say, "left": round(1.0 - one.loss.likely, 4), "cause": one.cause}
            for one in lasting.faults
        ],
    }


def sales_json(found: Reconciled) -> dict[str, Any]:
    """The sales together, and each with its steps in their order."""
    return {
        "value": round(found.value, 2),
        "low": round(found.low, 2),
        "high": round(found.high, 2),
        "mean": round(found.mean, 2),
        "median": round(found.median, 2),
        "spread": round(found.spread, 2),
        "left_out": found.left_out,
        "little_moved": found.little_moved,
        "rows": [_row(row, found) for row in found.rows],
    }


def _row(row: Adjusted, found: Reconciled) -> dict[str, Any]:
    one = row.comparable
    figures = {
        "price": one.price,
        "start": row.start,
        "after_level": row.after_level,
        "after_date": row.after_date,
        "after_grade": row.after_grade,
        "after_condition": row.after_condition,
        "value": row.value,
    }
    return {
        "key": one.key,
        "name": one.name,
        "kind": one.kind,
        "sold_on": one.sold_on.isoformat(),
        "note": one.note,
        "grade": round(one.grade, 4),
        **{name: round(figure, 2) for name, figure in figures.items()},
        "gross": round(row.gross, 4),
        "much": row.much,
        "weight_share": round(found.weight_share(row), 4),
    }
