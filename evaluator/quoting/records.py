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

from ..basis.record import as_list, as_object, as_text
from .answers import Totals, shown_price, three_totals
from .quote import Quote

if TYPE_CHECKING:
    from _typeshed import DataclassInstance

T = TypeVar("T")
Reader = Callable[[object], object]  # raises what `from_data` tells as a ValueError
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
    wanted: object = kind  # of which anything can be a key
    try:
        found = _reader(wanted)(data)
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


@cache
def _reader(kind: object) -> Reader:
    """What reads this type back; worked out once, as a page of orders holds thousands of fields."""
    origin, inside = get_origin(kind), get_args(kind)
    if is_dataclass(kind) and isinstance(kind, type):
        return _record(kind)
    if origin is tuple:
        return _tuple(inside)
    if origin in (Union, UnionType):
        read = _reader(next(one for one in inside if one is not NoneType))
        return lambda data: None if data is None else read(data)
    if origin is Literal:
        return lambda data: _same(data, data in inside)
    if kind is Decimal:
        return lambda data: Decimal(as_text(data))
    if kind is date or kind is datetime:
        return lambda data: kind.fromisoformat(as_text(data))
    if kind is float:
        return lambda data: _same(data, isinstance(data, int | float) and not isinstance(data, bool))
    return lambda data: _same(data, type(data) is kind)


def _record(kind: "type[DataclassInstance]") -> Reader:
    """For a record; a field that has a first value may be missing, as in records of before there was such a field."""
    readers = {name: _reader(hint) for name, hint in get_type_hints(kind).items()}
    needed = frozenset(field.name for field in fields(kind) if field.default is MISSING)
    make: Callable[..., object] = kind

    def read(data: object) -> object:
        given = as_object(data)
        if given.keys() - readers.keys() or needed - given.keys():
            raise ValueError(f"{kind.__name__} has other fields: {sorted(given.keys() ^ readers.keys())}")
        return make(**{name: readers[name](one) for name, one in given.items()})

    return read


def _tuple(inside: tuple[object, ...]) -> Reader:
    if inside[-1:] == (Ellipsis,):
        each = _reader(inside[0])
        return lambda data: tuple(map(each, as_list(data)))
    readers = [_reader(one) for one in inside]
    return lambda data: tuple(read(value) for read, value in zip(readers, as_list(data), strict=True))


def _same(data: object, fits: bool) -> object:
    if not fits:
        raise ValueError(f"{data!r} does not belong there")
    return data
