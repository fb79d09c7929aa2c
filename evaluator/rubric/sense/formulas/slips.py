"""Formulas, conditions and units of checks that load but make no sense."""

from collections.abc import Iterator

from ....basis.problem import Message, Messages
from ....basis.units import UNITS
from ...rubric import Rubric
from ...written.checks import Check
from ..slip import Slip, circles
from .bounds import dangers

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
