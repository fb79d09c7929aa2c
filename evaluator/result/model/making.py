"""How it was made: the classes with their shares, and the signs that speak for and against the likeliest."""

from collections.abc import Mapping

from ...basis.frozen import dataclass
from ...basis.record import Record


@dataclass(frozen=True, slots=True, kw_only=True)
class MakingClass(Record):
    """One class of making in words."""

    making: str
    say: str
    means: str


@dataclass(frozen=True, slots=True, kw_only=True)
class MakingSign(Record):
    """One answer as a sign. `weight`: natural logarithm of the factor by which it alone moves the odds of the likeliest
    class, above 0 where it speaks for it. `term` and `say` are the check and the outcome in words."""

    check: str
    outcome: str
    group: str
    weight: float
    term: str | None
    say: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Making(Record):
    """`shares` by class, the cheapest first, adding up to 1; `classes` in words in the same order; signs the strongest
    first. `groups_seen`: how many groups of signs tell anything. All empty where the rubric has no classes."""

    shares: Mapping[str, float]
    likeliest: str | None
    groups_seen: int
    classes: tuple[MakingClass, ...]
    signs: tuple[MakingSign, ...]


NO_MAKING = Making(shares={}, likeliest=None, groups_seen=0, classes=(), signs=())
