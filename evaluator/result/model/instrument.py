"""What was evaluated: the instrument, how it was made, and the rubric and the shop's figures that it was judged by."""

from collections.abc import Mapping

from ...basis.frozen import dataclass
from ...basis.record import Record
from ...rubric.written.kinds import Family, StringType, Style, Tier


@dataclass(frozen=True, slots=True, kw_only=True)
class Instrument(Record):
    """The instrument: `about` is what its owner wrote, `year` None where nobody knows it."""

    family: Family
    size: str
    style: Style
    tier: Tier
    about: str
    year: int | None
    strings: StringType | None


@dataclass(frozen=True, slots=True, kw_only=True)
class RubricUsed(Record):
    """The rubric: `hash` is SHA-256 of its content in hexadecimal; `opinions` are a workshop's own."""

    name: str
    title: str
    version: str
    hash: str
    opinions: Mapping[str, tuple[str, ...]]


@dataclass(frozen=True, slots=True, kw_only=True)
class ShopUsed(Record):
    """The shop's figures; `is_default` where they are the built-in ones, from memory.

    `borrowed`: names of the default's figures that a shop of its own goes on using, as "rates.repair".
    """

    name: str
    is_default: bool
    version: str
    hash: str
    borrowed: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Part(Record):
    """A part of the instrument as the rubric orders and names them."""

    part: str
    say: str


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
