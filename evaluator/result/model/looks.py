"""What is worth looking at next."""

from dataclasses import dataclass

from .record import Record


@dataclass(frozen=True, slots=True, kw_only=True)
class Look(Record):
    """A look with its minutes, and what it brings: money of the decision, or points of the score's variance."""

    check: str
    ask: str
    part: str
    minutes: float
    gain: float
    gain_unit: str
    why: str
