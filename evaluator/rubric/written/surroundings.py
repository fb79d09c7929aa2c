"""What stands around checks and jobs: standards, tools, causes, cautions, parts, what comes first, judged figures.

Checks and jobs refer to them by name. An example of a whole rubric is one more.
"""

from collections.abc import Mapping
from typing import Literal, Self, get_args

from pydantic import Field, StrictBool, model_validator

from .kinds import Age, Confidence, Family, Id, NotNegative, Number, Positive, Share, StringType, Style, Text, Written


class StandardRow(Written):
    """Limits for one family and one or more sizes. A missing low or high leaves that side open."""

    family: Family
    size: tuple[str, ...] = ()
    style: Style | None = None
    strings: StringType | None = None
    target: Number | None = None
    low: Number | None = None
    high: Number | None = None
    worth_at: dict[Number, Share] = {}
    confidence: Confidence
    sources: tuple[Text, ...] = Field(min_length=1)
    note: Text | None = None


class StandardTable(Written):
    """A named standard: the quantity and unit, and a row for each family, size, style and kind of string."""

    standard: Id
    say: Text
    unit: str
    rows: tuple[StandardRow, ...]


class Tool(Written):
    """A measuring tool: its error lies within +- half_width (rectangular), and it shows steps of `step`.

    `offered`: false where no check offers it any more, and readings of before name it.
    """

    tool: Id
    say: Text
    unit: str
    half_width: Positive
    step: NotNegative
    offered: StrictBool = True
    sources: tuple[Text, ...] = ()


class Cause(Written):
    """What makes several checks go wrong together; `prior` is the probability that it is at work, before any look."""

    cause: Id
    say: Text
    if_not: Text
    about: Literal["made_in", "condition"]
    prior: Share | dict[Id | Age, Share]

    def prior_at(self, making: Mapping[str, float], age: Age | None) -> float:
        """Prior probability at these shares of the classes of making; where an age is written too, the mean of both."""
        if not isinstance(self.prior, dict):
            return self.prior
        known = {name: share for name, share in making.items() if name in self.prior and share > 0}
        found = [sum(share * self.prior[name] for name, share in known.items()) / sum(known.values())] if known else []
        if age is not None and age in self.prior:
            found.append(self.prior[age])
        return sum(found) / len(found) if found else sum(self.prior.values()) / max(1, len(self.prior))


def first_sentence(text: str) -> str:
    """The sentence that a text begins with."""
    first, stop, _ = text.partition(". ")
    return first + "." if stop else first


class Caution(Written):
    """A warning. `look`: what of it counts while one looks, as one short line; else its first sentence is that line."""

    caution: Id
    say: Text
    look: Text | None = None
    demanded_by: tuple[Text, ...] = ()

    @property
    def line(self) -> str:
        """What of it counts while one looks."""
        return self.look or first_sentence(self.say)


class Part(Written):
    """The part of the instrument under which checks are asked, one page a part, in this order."""

    part: Id
    say: Text
    intro: Text | None = None


class RubricExample(Written):
    """A small instrument inside a rubric, with what must come out; run by `evaluator rubric check`."""

    example: Id
    say: Text
    instrument: dict[str, str | int]
    asking: NotNegative | None = None
    ready_value: NotNegative | None = None
    observations: dict[Id, str | float | dict[str, str | float]] = {}
    expect: dict[str, str | float | bool | tuple[str, ...]]


class Safety(Written):
    """The first page: what must be seen to be safe, in this order, before anything is tuned, played or tightened."""

    say: Text
    intro: Text | None = None
    checks: tuple[Id, ...] = Field(min_length=1)


class Wait(Written):
    """Outcomes, as check.outcome, under one name, so that checks need only name that under `postponed_by`."""

    wait: Id
    say: Text
    outcomes: tuple[Text, ...] = Field(min_length=1)


Figure = Literal[
    "widest_value", "bench_hours_apart", "usual_sound", "bad_sound_takes", "good_sound_gives", "sounds_bad",
    "probably", "too_much_work", "much_work_leaves", "unsellable_leaves", "opening",
    "out_of_reach", "may_stop", "no_saving", "far_too_cheap", "sold_on", "guides_apart", "barely_seen", "looked_enough",
    "full_look", "few_minutes", "plainly_worth", "share_for_safety", "kept_years",
]  # fmt: skip
FIGURES: tuple[Figure, ...] = get_args(Figure)
SHARE = (0.0, 1.0)
BOUNDS: Mapping[Figure, tuple[float, float]] = {
    "widest_value": (1.5, 100.0),
    "bench_hours_apart": (0.0, 100.0),
    "bad_sound_takes": (0.0, 5.0),
    "good_sound_gives": (0.0, 5.0),
    "out_of_reach": (1.0, 10.0),
    "guides_apart": (0.0, 2.0),
    "few_minutes": (1.0, 120.0),
    "plainly_worth": (0.0, 20.0),
    "kept_years": (0.0, 30.0),
}  # every other is a share


class Judged(Written):
    """One figure with its reason, its source, and how sure it is."""

    judged: Figure
    say: Text
    value: Number
    sources: tuple[Text, ...]
    confidence: Confidence

    @model_validator(mode="after")
    def makes_sense(self) -> Self:
        low, high = BOUNDS.get(self.judged, SHARE)
        if not low <= self.value <= high:
            raise ValueError(f"{self.judged} must lie between {low:g} and {high:g}")
        return self
