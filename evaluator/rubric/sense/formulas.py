"""Formulas, conditions and units of checks that load but make no sense: also a formula that can divide by zero.

Whether a formula can divide by zero or take the root of a negative number, for readings that the rubric allows, is told
by interval arithmetic over the tree: every name gets the interval of its check's allowed answers, and each step the
interval of all it can give. The intervals are wide where one name occurs twice, so a formula may be refused that is
safe (x / x for x around 0); it is never passed when it is not.
"""

from collections.abc import Callable, Iterator, Mapping
from math import inf, isnan, sqrt
from typing import NamedTuple

from ...basis.formulas.formula import Formula
from ...basis.problem import Message, Messages
from ...basis.units import UNITS
from ..rubric import Rubric
from ..written.checks import Check
from .slip import Slip, circles

MESSAGES: Messages = {
    "check.formula_is_condition": Message("the formula gives yes or no, not a number.", "Write arithmetic only."),
    "check.condition_is_number": Message(
        "relevant_if gives a number, not yes or no.", 'Compare something, for example style == "fiddle".'
    ),
    "check.divides_by_zero": Message(
        "the formula can divide by zero: {names} may be 0.", "Give {names} a measure with at_least above 0."
    ),
    "check.root_of_negative": Message(
        "the formula can take the root of a negative number.", "Use abs, or max(0, ...)."
    ),
    "check.formula_circle": Message("the formulas lead round in a circle: {circle}.", "Break it."),
    "check.relevance_circle": Message("the conditions lead round in a circle: {circle}.", "Break it."),
    "check.never_relevant": Message(
        'it waits for "{name}", which is never asked of the same instrument.',
        "Correct families, styles or relevant_if.",
    ),
    "check.derived_no_unit": Message("a derived check has no unit.", "Write unit: ratio, or another unit."),
    "check.unit_of_other_thing": Message('"{unit}" is no unit of {quantity}.', "Change the unit or the quantity."),
    "check.tool_of_other_thing": Message('"{tool}" measures in {tool_unit}, not in {unit}.', "Name another tool."),
    "check.postponed_by_itself": Message("it is postponed by its own outcome.", "Take it out."),
}
_DIMENSION = {"humidity": "ratio"}


def unit_slips(check: Check, rubric: Rubric) -> Iterator[Slip]:
    if check.kind == "derived" and check.unit is None:
        yield Slip("check.derived_no_unit", "checks", check.check, ("formula",), key=True)
    unit, path = (check.measure.unit, ("measure", "unit")) if check.measure else (check.unit, ("unit",))
    if check.measure is None or unit not in UNITS:
        return
    quantity = check.measure.quantity
    if UNITS[unit].dimension != _DIMENSION.get(quantity, quantity):
        yield Slip("check.unit_of_other_thing", "checks", check.check, path, {"unit": unit, "quantity": quantity})
    for at, name in enumerate(check.measure.tools):
        tool = rubric.tools.get(name)
        if tool and tool.unit in UNITS and UNITS[tool.unit].dimension != UNITS[unit].dimension:
            words = {"tool": name, "tool_unit": tool.unit, "unit": unit}
            yield Slip("check.tool_of_other_thing", "checks", check.check, ("measure", "tools", at), words)


def formula_slips(check: Check, rubric: Rubric) -> Iterator[Slip]:
    formula, condition = rubric.formulas.get(check.check), rubric.relevant.get(check.check)
    if formula is not None and formula.is_condition:
        yield Slip("check.formula_is_condition", "checks", check.check, ("formula",))
    if condition is not None and not condition.is_condition:
        yield Slip("check.condition_is_number", "checks", check.check, ("relevant_if",))
    for key, one in (("formula", formula), ("relevant_if", condition)):
        if one is None:
            continue
        zero, root = dangers(one, rubric.checks, rubric.formulas)
        if zero:
            yield Slip("check.divides_by_zero", "checks", check.check, (key,), {"names": " and ".join(zero)})
        if root:
            yield Slip("check.root_of_negative", "checks", check.check, (key,))
    for name in sorted(condition.names if condition else ()):
        other = rubric.checks.get(name)
        if other and check.styles and other.styles and not set(check.styles) & set(other.styles):
            yield Slip("check.never_relevant", "checks", check.check, ("relevant_if",), {"name": name})
    for at, text in enumerate(check.postponed_by):
        if text.partition(".")[0] == check.check:
            yield Slip("check.postponed_by_itself", "checks", check.check, ("postponed_by", at))


def circle_slips(rubric: Rubric) -> Iterator[Slip]:
    for code, key, table in (
        ("check.formula_circle", "formula", rubric.formulas),
        ("check.relevance_circle", "relevant_if", rubric.relevant),
    ):
        steps = {name: sorted(formula.names - {name}) for name, formula in table.items()}
        for circle in circles(steps):
            yield Slip(code, "checks", circle[0], (key,), {"circle": " -> ".join((*circle, circle[0]))})


class Interval(NamedTuple):
    """All numbers from low to high, both included."""

    low: float
    high: float

    @property
    def holds_zero(self) -> bool:
        return self.low <= 0 <= self.high


ANY = Interval(-inf, inf)
YEARS = Interval(1500, 2100)
NAMELESS = Interval(1, inf)  # a name that is no number is told as such, and not as a division by zero as well
# A length, weight or share cannot be negative, even where the rubric sets no limit.
_NEVER_NEGATIVE = frozenset({"length", "mass", "ratio", "frequency", "humidity", "time"})


def answers(check: Check) -> Interval:
    """The numbers that may be answered to a measured, counted or rated check."""
    if check.measure:
        least = 0.0 if check.measure.quantity in _NEVER_NEGATIVE else -inf
        low, high = check.measure.at_least, check.measure.at_most
        return Interval(least if low is None else low, inf if high is None else high)
    if check.count:
        return Interval(check.count.at_least, check.count.at_most)
    if check.rate:
        return Interval(check.rate.lowest, check.rate.highest)
    return ANY


class Dangers(NamedTuple):
    """Names in denominators that can be zero together, and whether a root of a negative number can occur."""

    zero: tuple[str, ...]
    root: bool


def dangers(formula: Formula, checks: Mapping[str, Check], formulas: Mapping[str, Formula]) -> Dangers:
    """What can go wrong in a formula whose names are checks, measured or derived in their turn."""
    walk = _Walk(checks, formulas)
    walk.interval(formula.node)
    return Dangers(tuple(sorted(walk.zero)), walk.root)


class _Walk:
    def __init__(self, checks: Mapping[str, Check], formulas: Mapping[str, Formula]) -> None:
        self.checks = checks
        self.formulas = formulas
        self.zero: set[str] = set()
        self.root = False
        self.open: set[str] = set()

    def name(self, name: str) -> Interval:
        if name == "year":
            return YEARS
        formula, check = self.formulas.get(name), self.checks.get(name)
        if formula is not None and name not in self.open:
            inner = _Walk(self.checks, self.formulas)
            inner.open = self.open | {name}
            return inner.interval(formula.node)
        if check is None or check.kind in {"choice", "derived"}:
            return NAMELESS
        return answers(check)

    def interval(self, node: object) -> Interval:
        if isinstance(node, float):
            return Interval(node, node)
        if not isinstance(node, tuple) or node[0] in {"text"}:
            return ANY
        sign = node[0]
        if sign == "name":
            return self.name(node[1])
        parts = [self.interval(part) for part in node[1:] if isinstance(part, (tuple, float))]
        if sign == "/" and parts[1].holds_zero:
            self.zero |= _names_in(node[2])
            return ANY
        if sign == "sqrt" and parts[0].low < 0:
            self.root = True
            return Interval(0, inf)
        return _STEPS[sign](parts) if sign in _STEPS else Interval(0, 1)


def _names_in(node: object) -> set[str]:
    if not isinstance(node, tuple):
        return set()
    if node[0] == "name":
        return {str(node[1])}
    return set().union(*(_names_in(part) for part in node[1:]), set())


def _hull(values: list[float]) -> Interval:
    """The interval round some values; where infinities cancel anything is possible."""
    return ANY if any(isnan(value) for value in values) else Interval(min(values), max(values))


def _times(x: Interval, y: Interval) -> Interval:
    """Products of the ends; zero times an endless end is zero, because every single value is finite."""
    return _hull([0.0 if 0 in (a, b) else a * b for a in x for b in y])


def _over(x: Interval, y: Interval) -> Interval:
    return _times(x, Interval(1 / y.high, 1 / y.low))


def _minus(parts: list[Interval]) -> Interval:
    if len(parts) == 1:
        return Interval(-parts[0].high, -parts[0].low)
    return _hull([parts[0].low - parts[1].high, parts[0].high - parts[1].low])


def _absolute(x: Interval) -> Interval:
    ends = sorted((abs(x.low), abs(x.high)))
    return Interval(0, ends[1]) if x.holds_zero else Interval(*ends)


_STEPS: dict[str, Callable[[list[Interval]], Interval]] = {
    "+": lambda p: _hull([p[0].low + p[1].low, p[0].high + p[1].high]),
    "-": _minus,
    "*": lambda p: _times(p[0], p[1]),
    "/": lambda p: _over(p[0], p[1]),
    "min": lambda p: Interval(min(x.low for x in p), min(x.high for x in p)),
    "max": lambda p: Interval(max(x.low for x in p), max(x.high for x in p)),
    "abs": lambda p: _absolute(p[0]),
    "sqrt": lambda p: Interval(sqrt(p[0].low), sqrt(p[0].high)),
}
