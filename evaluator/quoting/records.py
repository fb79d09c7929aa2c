"""Quotes, consents and work orders as plain JSON values and back, field by field from their types.

Amounts and dates are texts, tuples are lists; floats keep every digit, so a record that was read again has the same
fingerprint. `quote_json` adds prices and totals for whoever reads the JSON alone.
"""

from collections.abc import Mapping
from dataclasses import MISSING, fields, is_dataclass
from datetime import date, datetime
from decimal import Decimal
from functools import cache
from types import NoneType, UnionType
from typing import Any, Literal, TypeVar, Union, get_args, get_origin, get_type_hints

from .answers import Totals, shown_price, three_totals
from .quote import Quote

T = TypeVar("T")
FORMAT = 1


def to_data(value: object) -> Any:
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


def from_data(kind: type[T], data: Any) -> T:
    """The record of this class from `to_data` of it; raises ValueError where the data are of another shape."""
    try:
        found = _read(kind, data)
    except (KeyError, TypeError, ArithmeticError, ValueError) as wrong:
        raise ValueError(f"these data are no {kind.__name__}: {wrong}") from wrong
    assert isinstance(found, kind)
    return found


def quote_json(quote: Quote) -> dict[str, Any]:
    """The quote for other programs: its record, each line with its price, and its three totals."""
    data: dict[str, Any] = {"format": FORMAT, **to_data(quote), "fingerprint": quote.fingerprint()}
    for line, written in zip(quote.lines, data["lines"], strict=True):
        written["price"] = to_data(line.price)
        written["shown_price"] = to_data(shown_price(quote.terms, line))
    data["totals"] = {name: totals_json(found) for name, found in three_totals(quote).items()}
    return data


def totals_json(found: Totals) -> dict[str, Any]:
    """One invoice with every figure between, so that it can be added up again."""
    data: dict[str, Any] = to_data(found)
    if found.gross is None:
        del data["gross"]
    return {**data, "tax": to_data(found.tax)}


def _read(kind: Any, data: Any) -> Any:
    origin, inside = get_origin(kind), get_args(kind)
    if is_dataclass(kind):
        return _record(kind, data)
    if origin is tuple:
        return _tuple(inside, data)
    if origin in (Union, UnionType):
        return None if data is None else _read(next(one for one in inside if one is not NoneType), data)
    if origin is Literal:
        return _same(data, data in inside)
    return _plain(kind, data)


def _record(kind: Any, data: Mapping[str, Any]) -> Any:
    """The record; a field that has a first value may be missing, as in records of before there was such a field."""
    hints, needed = _fields(kind)
    if set(data) - set(hints) or needed - set(data):
        raise ValueError(f"{kind.__name__} has other fields: {sorted(set(data) ^ set(hints))}")
    return kind(**{name: _read(hint, data[name]) for name, hint in hints.items() if name in data})


@cache
def _fields(kind: Any) -> tuple[dict[str, Any], frozenset[str]]:
    """The type of each field of a record, and the fields that must be there: slow to work out, so once a kind."""
    return get_type_hints(kind), frozenset(field.name for field in fields(kind) if field.default is MISSING)


def _tuple(inside: tuple[Any, ...], data: Any) -> tuple[Any, ...]:
    _same(data, isinstance(data, list))
    if inside[-1:] == (Ellipsis,):
        return tuple(_read(inside[0], one) for one in data)
    return tuple(_read(one, value) for one, value in zip(inside, data, strict=True))


def _plain(kind: Any, data: Any) -> Any:
    if kind is Decimal:
        return Decimal(_same(data, isinstance(data, str)))
    if kind in (date, datetime):
        return kind.fromisoformat(data)
    if kind is float:
        return _same(data, isinstance(data, int | float) and not isinstance(data, bool))
    return _same(data, type(data) is kind)


def _same(data: Any, fits: bool) -> Any:
    if not fits:
        raise ValueError(f"{data!r} does not belong there")
    return data
