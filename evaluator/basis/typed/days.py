"""The one reader of typed days: `2026-03-31`, `31 March 2026`, `31.03.2026`, `03/31/26`.

Which of two numbers is the month is not said by `03/04/2026`. With points the day stands first, as everywhere where
points are written; with strokes the rest of a column may tell, and where it does not, both readings are asked back.
"""

import re
from collections.abc import Iterable
from datetime import date
from typing import Literal

from ..show import MONTHS
from .signs import plain

Order = Literal["day_first", "month_first"]
_ISO = re.compile(r"(\d{4})[-/.](\d{1,2})[-/.](\d{1,2})(?:[T ][0-9:.]+)?")
_NUMBERS = re.compile(r"(\d{1,2})([-/.])(\d{1,2})\2(\d{4}|\d{2})")
_NAMED = re.compile(r"(\d{1,2})\.? ?-?([^\W\d]+)\.?,? ?-?(\d{4}|\d{2})")
_NAMED_FIRST = re.compile(r"([^\W\d]+)\.? (\d{1,2})(?:st|nd|rd|th)?,? (\d{4})")
# Beside the English names: how neighbours write their months, by their first letters.
_OTHER = {
    "mär": 3, "mrz": 3, "mai": 5, "okt": 10, "dez": 12, "janv": 1, "févr": 2, "fév": 2, "avr": 4, "juin": 6, "juil": 7,
    "août": 8, "déc": 12, "ene": 1, "abr": 4, "ago": 8, "dic": 12, "gen": 1, "mag": 5, "giu": 6, "lug": 7, "set": 9,
    "ott": 10,
}  # fmt: skip


def order_of(texts: Iterable[str]) -> Order | None:
    """The order that the days of a column show by a number above 12; None where none does, or they contradict."""
    firsts = {found for text in texts if (found := _evidence(plain(text)))}
    return firsts.pop() if len(firsts) == 1 else None


def days_of(text: str, order: Order | None = None) -> tuple[date, ...]:
    """Every day that the text can mean: none, one, or two where the month cannot be told."""
    written = plain(text)
    if iso := _ISO.fullmatch(written):
        return _day(int(iso[1]), int(iso[2]), int(iso[3]))
    if named := _NAMED.fullmatch(written):
        return _day(_year(named[3]), _month(named[2]), int(named[1]))
    if named := _NAMED_FIRST.fullmatch(written):
        return _day(int(named[3]), _month(named[1]), int(named[2]))
    numbers = _NUMBERS.fullmatch(written)
    if numbers is None:
        return ()
    first, second, year = int(numbers[1]), int(numbers[3]), _year(numbers[4])
    day_first, month_first = _day(year, second, first), _day(year, first, second)
    if numbers[2] == "." or order == "day_first":
        return day_first
    return month_first if order == "month_first" else tuple(dict.fromkeys((*day_first, *month_first)))


def _evidence(written: str) -> Order | None:
    numbers = _NUMBERS.fullmatch(written)
    if numbers is None or numbers[2] == ".":
        return None
    if int(numbers[1]) > 12:
        return "day_first"
    return "month_first" if int(numbers[3]) > 12 else None


def _year(text: str) -> int:
    return int(text) if len(text) == 4 else 2000 + int(text)


def _month(name: str) -> int:
    """1 to 12 of a month's name or its beginning, of three letters at least; 0 of no month."""
    low = name.lower()
    for at, month in enumerate(MONTHS, 1):
        if len(low) >= 3 and month.lower().startswith(low):
            return at
    other = next((_OTHER[start] for start in sorted(_OTHER, key=len, reverse=True) if low.startswith(start)), 0)
    return other or next((at for at, month in enumerate(MONTHS, 1) if low[:3] == month.lower()[:3]), 0)


def _day(year: int, month: int, day: int) -> tuple[date, ...]:
    try:
        return (date(year, month, day),)
    except ValueError:
        return ()
