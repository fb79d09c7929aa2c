"""What checks and jobs refer to by name: standards, tools, causes, cautions, parts; and examples of a whole rubric."""

from collections.abc import Mapping
from typing import Literal

from pydantic import Field, StrictBool

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
