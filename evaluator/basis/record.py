"""Records in JSON: what every record of a result is, its money as text, and values of which nothing is known yet.

A record is frozen, strict about its fields, and the same in JSON by its own names. An amount of money stands there as
text with its currency beside, whatever it is inside: an estimate is a float in the one currency of its result, and a
charge a Decimal. The currency comes with the context of writing and reading; without one, plain numbers are written and
read, as results of before have them.

A value out of JSON is asked what it is before it is used. Each reader gives the value as what it should be, or raises
ValueError: whoever took it from outside tells in a sentence which file or record it was. In a record of our own it is a
bug.
"""

from collections.abc import Mapping
from decimal import Decimal, InvalidOperation
from typing import Annotated, ClassVar

from pydantic import (
    BeforeValidator,
    ConfigDict,
    Field,
    PlainSerializer,
    SerializationInfo,
    ValidationInfo,
    WithJsonSchema,
)

from .frozen import dataclass
from .money import Money

CURRENCY = "currency"
AMOUNT_SCHEMA = {
    "title": "Amount",
    "type": "object",
    "properties": {
        "amount": {"type": "string", "pattern": r"^-?[0-9]+\.[0-9]{2,}$"},
        "currency": {"type": "string", "pattern": "^[A-Z]{3}$"},
    },
    "required": ["amount", "currency"],
    "additionalProperties": False,
}
JsonObject = Mapping[str, object]


def _nothing(value: object) -> bool:
    return not value


SPARED = Field(exclude_if=_nothing)  # a field that the JSON is without where it holds nothing


@dataclass(frozen=True, slots=True)
class Record:
    """The base of all. A field that older kept results are without has the value that says so."""

    __pydantic_config__: ClassVar[ConfigDict] = ConfigDict(extra="forbid", strict=True)


def _out(value: float | Decimal, info: SerializationInfo) -> object:
    currency = (info.context or {}).get(CURRENCY)
    return value if currency is None else {"amount": in_full(value), "currency": currency}


def _float_in(value: object, info: ValidationInfo) -> object:
    amount = _amount(value, info)
    return value if amount is None else float(amount)


def _decimal_in(value: object, info: ValidationInfo) -> object:
    amount = _amount(value, info)
    if amount is not None:
        return amount
    return Decimal(value) if isinstance(value, str) else value


def _amount(value: object, info: ValidationInfo) -> Decimal | None:
    """The amount of an object of amount and currency; None for anything else where no currency is asked for."""
    currency = (info.context or {}).get(CURRENCY)
    if currency is None or value is None or isinstance(value, Money):
        return None
    if not isinstance(value, Mapping) or set(value) != {"amount", "currency"} or value["currency"] != currency:
        raise ValueError(f"an amount in {currency} is wanted")
    try:
        amount = Decimal(value["amount"]) if isinstance(value["amount"], str) else None
    except InvalidOperation:
        amount = None
    if amount is None or not amount.is_finite():
        raise ValueError("an amount is a number as text")
    return amount


def in_full(amount: float | Decimal) -> str:
    """'87.25', with two decimals or as many as it has, so that it comes back as it was."""
    exact = amount if isinstance(amount, Decimal) else Decimal(repr(amount))
    exponent = exact.as_tuple().exponent
    return f"{exact.quantize(Decimal('0.01')) if isinstance(exponent, int) and exponent > -2 else exact:f}"


def with_amounts(found: Mapping[str, object], names: frozenset[str], currency: str) -> dict[str, object]:
    """Plain JSON values with each number of these names as an amount; nothing else changes."""
    return {
        name: {"amount": in_full(value), "currency": currency}
        if name in names and isinstance(value, int | float) and not isinstance(value, bool)
        else _with_amounts(value, names, currency)
        for name, value in found.items()
    }


def _with_amounts(value: object, names: frozenset[str], currency: str) -> object:
    if isinstance(value, Mapping):
        return with_amounts(value, names, currency)
    return [_with_amounts(one, names, currency) for one in value] if isinstance(value, list | tuple) else value


_SHOWN = (PlainSerializer(_out), WithJsonSchema(AMOUNT_SCHEMA, mode="serialization"))
Price = Annotated[float, BeforeValidator(_float_in), *_SHOWN]
Charge = Annotated[Decimal, BeforeValidator(_decimal_in), *_SHOWN]


def as_object(value: object) -> JsonObject:
    """The value as an object of JSON: names with values."""
    if not isinstance(value, Mapping):
        raise ValueError(f"an object was expected, not {type(value).__name__}")
    return value


def as_list(value: object) -> list[object]:
    """The value as a list."""
    if not isinstance(value, list):
        raise ValueError(f"a list was expected, not {type(value).__name__}")
    return value


def as_text(value: object) -> str:
    """The value as a text."""
    if not isinstance(value, str):
        raise ValueError(f"a text was expected, not {type(value).__name__}")
    return value
