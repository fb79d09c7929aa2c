"""Quotes, consents and work orders as plain JSON values and back, field by field from their types.

Amounts and dates are texts, tuples are lists; floats keep every digit, so a record that was read again has the same
fingerprint. `quote_json` adds prices and totals for whoever reads the JSON alone.
"""

from collections.abc import Callable
from dataclasses import MISSING, fields, is_dataclass
from datetime import date, datetime
from decimal import Decimal
from functools import cache
from types import NoneType, UnionType
from typing import TYPE_CHECKING, Literal, TypeVar, Union, get_args, get_origin, get_type_hints

from ..basis.record import JsonObject, as_list, as_object, as_text
from .answers import Totals, shown_price, three_totals
from .quote import Quote

if TYPE_CHECKING:
    from _typeshed import DataclassInstance

T = TypeVar("T")
FORMAT = 1


def to_data(value: object) -> object:
    """A record, or anything inside one, as values that `json.dumps` takes; raises TypeError for other types."""
    if is_dataclass(value) and not isinstance(value, type):
        return {field.name: to_data(getattr(value, field.name)) for field in fields(value)}
    if isinstance(value, tuple):
        return [to_data(one) for one in value]
    if isinstance(value, Decimal):
        return str(value)
    if isinstance(value, date):
        return value.isoformat()
    if isinstance(value, float):
        return float(value)
    if value is None or isinstance(value, str | int):
        return value
    raise TypeError(f"no record holds {type(value).__name__}")


def from_data(kind: type[T], data: object) -> T:
    """The record of this class from `to_data` of it; raises ValueError where the data are of another shape."""
    try:
        found = _read(kind, data)
    except (KeyError, TypeError, ArithmeticError, ValueError) as wrong:
        raise ValueError(f"these data are no {kind.__name__}: {wrong}") from wrong
    assert isinstance(found, kind)
    return found


def quote_json(quote: Quote) -> dict[str, object]:
    """The quote for other programs: its record, each line with its price, and its three totals."""
    record = as_object(to_data(quote))
    lines = [
        {**as_object(written), "price": to_data(line.price), "shown_price": to_data(shown_price(quote.terms, line))}
        for line, written in zip(quote.lines, as_list(record["lines"]), strict=True)
    ]
    totals = {name: totals_json(found) for name, found in three_totals(quote).items()}
    return {"format": FORMAT, **record, "lines": lines, "fingerprint": quote.fingerprint(), "totals": totals}


def totals_json(found: Totals) -> dict[str, object]:
    """One invoice with every figure between, so that it can be added up again."""
    told = as_object(to_data(found))
    shown = {name: value for name, value in told.items() if name != "gross" or found.gross is not None}
    return {**shown, "tax": to_data(found.tax)}


def _read(kind: object, data: object) -> object:
    origin, inside = get_origin(kind), get_args(kind)
    if is_dataclass(kind) and isinstance(kind, type):
        return _record(kind, as_object(data))
    if origin is tuple:
        return _tuple(inside, data)
    if origin in (Union, UnionType):
        return None if data is None else _read(next(one for one in inside if one is not NoneType), data)
    if origin is Literal:
        return _same(data, data in inside)
    return _plain(kind, data)


def _record(kind: "type[DataclassInstance]", data: JsonObject) -> object:
    """The record; a field that has a first value may be missing, as in records of before there was such a field."""
    hints, needed = _fields(kind)
    if set(data) - set(hints) or needed - set(data):
        raise ValueError(f"{kind.__name__} has other fields: {sorted(set(data) ^ set(hints))}")
    make: Callable[..., object] = kind
    return make(**{name: _read(hint, data[name]) for name, hint in hints.items() if name in data})


@cache
def _fields(kind: "type[DataclassInstance]") -> tuple[dict[str, object], frozenset[str]]:
    """The type of each field of a record, and the fields that must be there: slow to work out, so once a kind."""
    return get_type_hints(kind), frozenset(field.name for field in fields(kind) if field.default is MISSING)


def _tuple(inside: tuple[object, ...], data: object) -> tuple[object, ...]:
    values = as_list(data)
    if inside[-1:] == (Ellipsis,):
        return tuple(_read(inside[0], one) for one in values)
    return tuple(_read(one, value) for one, value in zip(inside, values, strict=True))


def _plain(kind: object, data: object) -> object:
    if kind is Decimal:
        return Decimal(as_text(data))
    if kind is date or kind is datetime:
        return kind.fromisoformat(as_text(data))
    if kind is float:
        return _same(data, isinstance(data, int | float) and not isinstance(data, bool))
    return _same(data, type(data) is kind)


def _same(data: object, fits: bool) -> object:
    if not fits:
        raise ValueError(f"{data!r} does not belong there")
    return data
