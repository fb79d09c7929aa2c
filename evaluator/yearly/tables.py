"""One finding of the year as a table: its rows are what the page shows, the CSV holds and the plot draws."""

from dataclasses import dataclass
from typing import Literal

Shape = Literal["bars", "pairs", "calibration", "none"]


@dataclass(frozen=True, slots=True)
class Bar:
    """What is drawn for a row: `value` of at most `most`; `other` beside it, where two are compared."""

    say: str
    value: float
    text: str
    other: float | None = None


@dataclass(frozen=True, slots=True)
class YearTable:
    """`say` is the finding in a sentence; the first column of a row names it, the others are figures as texts."""

    name: str
    title: str
    say: str
    columns: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    shape: Shape = "none"
    bars: tuple[Bar, ...] = ()
    unit: str = ""
    compared: tuple[str, str] = ("", "")
