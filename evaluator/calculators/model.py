"""What a calculator is: named inputs with units and bounds, a sum over them, and where it comes from.

A calculator reads nothing and prints nothing. Its `run` gets numbers in the units that its inputs name and gives
results, or raises ImpossibleError where the figures describe something that cannot be, and IncompleteError where inputs
do not go together.
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from typing import Literal

from ..rubric.knowledge import Climate

Kind = Literal["number", "points", "choice", "note", "date"]

NO_SOURCE = "common practice, no source"

# The unit of an input that may be anything, as long as all such inputs of the calculator are of one kind.
ANY = "any"


@dataclass(frozen=True, slots=True)
class Input:
    """One thing to give.

    `default` is written as a person would write it. `low`..`high` are hard bounds (`above` instead of `low` where the
    bound itself is not allowed); `valid` is the stretch in which the formula is known to hold: outside it the answer
    comes with a warning. `many` takes a list; `width` is how many numbers a point has.
    """

    name: str
    say: str
    unit: str = "ratio"
    kind: Kind = "number"
    default: str | None = None
    required: bool = False
    low: float | None = None
    above: float | None = None
    high: float | None = None
    valid: tuple[float, float] | None = None
    many: bool = False
    width: int = 1
    least: int = 1
    most: int = 40
    choices: Mapping[str, str] = field(default_factory=dict)
    doubt: bool = True  # whether +- may be written
    difference: bool = False  # a width, not a place on a scale: 2 degF are 1.1 degC


class IncompleteError(ValueError):
    """Inputs that do not go together, or one of several ways of giving that is not complete; the text says which."""


@dataclass(frozen=True, slots=True)
class Given:
    """What was given, in the inputs' units. A list input has as many numbers as were written, a point's in a row."""

    numbers: Mapping[str, tuple[float, ...]]
    words: Mapping[str, tuple[str, ...]]
    u: Mapping[str, tuple[float, ...]]
    unit: str = "ratio"  # of the inputs whose unit may be anything

    def has(self, name: str) -> bool:
        return name in self.numbers or name in self.words

    def number(self, name: str) -> float:
        return self.numbers[name][0]

    def all(self, name: str) -> tuple[float, ...]:
        return self.numbers.get(name, ())

    def word(self, name: str) -> str:
        return self.words[name][0]

    def doubt(self, name: str) -> float:
        """The standard uncertainty written behind +-, 0 where none was."""
        return self.u[name][0] if name in self.u else 0.0

    def points(self, name: str, width: int) -> tuple[tuple[float, ...], ...]:
        flat = self.numbers[name]
        return tuple(flat[i : i + width] for i in range(0, len(flat), width))


@dataclass(frozen=True, slots=True)
class Result:
    """One figure of the answer; `u` is its standard uncertainty where one is known."""

    name: str
    say: str
    value: float | str
    unit: str = "ratio"
    u: float | None = None
    counted: bool = False  # a count or a name of a case: no doubt is carried to it


@dataclass(frozen=True, slots=True)
class Outcome:
    """What `run` gives: the asked figure or figures, others beside it, and warnings about the answer."""

    main: tuple[Result, ...]
    also: tuple[Result, ...] = ()
    warnings: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Calculator:
    """`gives` says in one sentence what comes back, `holds` where the formula holds and where it does not."""

    name: str
    title: str
    gives: str
    inputs: tuple[Input, ...]
    run: Callable[[Given], Outcome]
    source: str
    holds: str
    example: Mapping[str, str]
    caution: str = ""
    carries: bool = True  # whether the +- of inputs is carried to the answer; else the sum itself uses it
    plot: tuple[str, float, float] | None = None  # input to draw the answer against, from..to in its unit
    rooms: Mapping[str, Climate] = field(default_factory=dict)  # the climates over which it can be drawn, by id

    def input(self, name: str) -> Input:
        return next(one for one in self.inputs if one.name == name)


@dataclass(frozen=True, slots=True)
class Answer:
    """The answer of a calculator with its warnings and its source."""

    calculator: Calculator
    given: Given
    main: tuple[Result, ...]
    also: tuple[Result, ...]
    warnings: tuple[str, ...]
