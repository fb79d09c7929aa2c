"""A result as JSON and back: one encoder, one reader, one schema.

The JSON has the names of the records; money is an amount as text with its currency. A kept result of an older form is
brought up by `old_forms` before it is read, and its plain numbers are money of its plan's currency.
"""

import json
from collections.abc import Mapping
from functools import cache

from pydantic import TypeAdapter, ValidationError

from ..basis.record import CURRENCY, as_object
from .evaluation import Evaluation
from .making.result import result_of
from .model.result import MONEY_AS_TEXT, Result
from .old_forms import brought_up

DIALECT = "https://json-schema.org/draft/2020-12/schema"


class NoResultError(ValueError):
    """What was given as a kept result is none: a fault of whoever kept it, and no mistake of a user."""


@cache
def _adapter() -> TypeAdapter[Result]:
    return TypeAdapter(Result)


def result_json(result: Result) -> dict[str, object]:
    """Plain values that `json.dumps` takes: amounts of money are texts with their currency beside."""
    found: dict[str, object] = _adapter().dump_python(result, mode="json", by_alias=True, context=money_context(result))
    return found


def with_plain_money(result: Result) -> dict[str, object]:
    """The same with money as plain numbers, as kept results of before have it: to hold one against the other."""
    found: dict[str, object] = _adapter().dump_python(result, mode="json", by_alias=True)
    return found


def money_context(result: Result) -> dict[str, str]:
    """What says to a writer of this result in which currency its figures are."""
    return {CURRENCY: result.plan.currency}


def has_money_as_text(kept: Mapping[str, object]) -> bool:
    """Whether a kept result has amounts as text with their currency."""
    form = kept.get("format")
    return isinstance(form, int) and form >= MONEY_AS_TEXT


def read_result(kept: Mapping[str, object]) -> Result:
    """The result of `result_json`, of this form or an older one; raises NoResultError for anything else."""
    try:
        context = {CURRENCY: str(as_object(kept["plan"])["currency"])} if has_money_as_text(kept) else None
        return _adapter().validate_json(json.dumps(brought_up(kept), allow_nan=False), context=context)
    except (ValidationError, ValueError, TypeError, KeyError) as wrong:
        raise NoResultError(str(wrong)) from wrong


def result_schema() -> dict[str, object]:
    """JSON Schema (2020-12) of a result as `result_json` gives it."""
    schema = _adapter().json_schema(mode="serialization", by_alias=True)
    return {"$schema": DIALECT, "title": "The result of an evaluation", **schema}


def to_json(evaluation: Evaluation) -> dict[str, object]:
    """The result of an evaluation as plain JSON values."""
    return result_json(result_of(evaluation))
