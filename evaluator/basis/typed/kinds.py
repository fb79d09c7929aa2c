"""What pages ask for, by kind: the reader of each, and the words for what was understood.

A page shows beside a field how it was read where the text leaves any room for doubt: "1.450 read as 1,450.00 USD".
"""

import re
from collections.abc import Callable
from dataclasses import dataclass
from decimal import Decimal
from typing import Literal

from .. import show
from ..money import Money
from ..problem import Problem
from ..show import number, with_unit
from . import hours, money
from .numbers import read_factor, read_percent, read_share, read_whole
from .quantities import Between, read_quantity

Kind = Literal["money", "hours", "percent", "share", "factor", "whole", "degrees"]


@dataclass(frozen=True, slots=True)
class Wanted:
    """What a field asks for: its kind, its bounds (inclusive; `above`: more than the least), and the money it is in."""

    kind: Kind
    least: float = 0.0
    most: float = 1_000_000.0
    currency: str = "USD"
    above: bool = False


@dataclass(frozen=True, slots=True)
class Understood:
    """A value as it was read, and in words; percent are of 100, degrees are of Celsius."""

    value: float
    say: str
    money: Money | None = None


def understand(text: str, wanted: Wanted, where: str = "") -> Understood | Problem:
    """What a typed text means in a field of this kind, or the sentence to put beside it."""
    return _READERS[wanted.kind](text, wanted, where)


def note(text: str, found: Understood, kind: Kind) -> str:
    """'1.450 read as 1,450.00 USD'; empty where nobody could read it otherwise."""
    bare = text.strip()
    plainly = re.fullmatch(r"[0-9]+" if kind == "hours" else r"[0-9]+(\.[0-9]{1,2})?", bare)
    return "" if plainly or not bare else f"{bare} read as {found.say}"


def _money(text: str, wanted: Wanted, where: str) -> Understood | Problem:
    least = Decimal(repr(wanted.least)) if wanted.least >= 0 else None
    found = money.read_money(text, wanted.currency, where, least=least, most=wanted.most, above=wanted.above)
    return found if isinstance(found, Problem) else Understood(float(found.amount), money.say(found), found)


def _hours(text: str, wanted: Wanted, where: str) -> Understood | Problem:
    found = hours.read_hours(text, where, least=wanted.least, most=wanted.most, above=wanted.above)
    return found if isinstance(found, Problem) else Understood(found, show.hours(found))


def _percent(text: str, wanted: Wanted, where: str) -> Understood | Problem:
    found = read_percent(text, where, least=wanted.least, most=wanted.most)
    return found if isinstance(found, Problem) else Understood(found, f"{number(found)} %")


def _share(text: str, wanted: Wanted, where: str) -> Understood | Problem:
    found = read_share(text, where, least=wanted.least, most=wanted.most)
    return found if isinstance(found, Problem) else Understood(found, f"{number(100 * found)} %")


def _factor(text: str, wanted: Wanted, where: str) -> Understood | Problem:
    found = read_factor(text, where, least=wanted.least, most=wanted.most)
    return found if isinstance(found, Problem) else Understood(found, number(found, 4))


def _whole(text: str, wanted: Wanted, where: str) -> Understood | Problem:
    found = read_whole(text, where, least=int(wanted.least), most=int(wanted.most))
    return found if isinstance(found, Problem) else Understood(float(found), f"{found:,}")


def _degrees(text: str, wanted: Wanted, where: str) -> Understood | Problem:
    found = read_quantity(text, "degC", where, between=Between(wanted.least, wanted.most))
    if isinstance(found, Problem):
        return found
    outside = read_factor(f"{found.value:.4f}", where, least=wanted.least, most=wanted.most)
    if isinstance(outside, Problem):
        return outside
    return Understood(found.value, with_unit(number(found.value, 1), "°C"))


_READERS: dict[Kind, Callable[[str, Wanted, str], Understood | Problem]] = {
    "money": _money,
    "hours": _hours,
    "percent": _percent,
    "share": _share,
    "factor": _factor,
    "whole": _whole,
    "degrees": _degrees,
}
