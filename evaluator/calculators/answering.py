"""Every calculator by its name, one call from typed text to an answer with its doubt, and the JSON of an answer.

Some calculators need facts that are read from a file. Uncertainty is carried to first order: each input that stands
with +- moves the answer by its slope, and the moves are added as squares (JCGM 100:2008, 5.1.2). Inputs are taken as
independent.
"""

import math
from collections.abc import Callable, Mapping
from dataclasses import replace

from ..assessment.observing.uncertainty import in_quadrature, propagated
from ..basis.problem import Message, Messages, Problem, did_you_mean, problem
from ..lutherie import ImpossibleError
from ..rubric.knowledge import Seasons
from . import bridge, care, estimates, measuring, neck, strings, wood
from .model import Answer, Calculator, Given, IncompleteError, Outcome, Result
from .reading import read

MESSAGES: Messages = {
    "calc.unknown": Message('there is no calculator "{name}".', "{hint}See all of them with: evaluator calc"),
    "calc.impossible": Message("{why}.", "Look at the figures again."),
    "calc.incomplete": Message("{why}."),
    "calc.not_finite": Message("these figures lead to no finite number.", "Look at the figures again."),
}
_MODULES = (strings, bridge, neck, wood, care, measuring, estimates)
PLAIN: Mapping[str, Calculator] = {one.name: one for module in _MODULES for one in module.ALL}
OF_FACTS: Mapping[str, Callable[[Seasons], Calculator]] = {"peg_fit": wood.peg_fit, "tuner_mass": care.tuner_mass}
ORDER = (
    *("pitch", "string_tension", "string_mass", "downforce", "break_angle", "projection", "bridge_arch", "afterlength"),
    *("stop_ratio", "moisture", "wood_movement", "peg_fit", "tuner_mass", "service_due", "conformity", "uncertainty"),
    *("three_point", "photo_scale"),
)


def calculators(known: Seasons) -> Mapping[str, Calculator]:
    """All of them, by name."""
    every = {**PLAIN, **{name: made(known) for name, made in OF_FACTS.items()}}
    return {name: every[name] for name in ORDER}


def calculator_named(name: str, every: Mapping[str, Calculator]) -> Calculator | Problem:
    """The calculator, or a mistake with a near name."""
    found = every.get(name)
    if found is None:
        hint = did_you_mean(name, every)
        return problem(MESSAGES, "calc.unknown", name=name[:40], hint=f"{hint} " if hint else "")
    return found


def answer(calculator: Calculator, typed: Mapping[str, str]) -> tuple[Answer | None, tuple[Problem, ...]]:
    """The answer to what was typed as key -> text, or every mistake in it."""
    found, problems = read(calculator, typed)
    if found is None:
        return None, problems
    given, warnings = found
    try:
        outcome = calculator.run(given)
    except IncompleteError as error:
        return None, (problem(MESSAGES, "calc.incomplete", calculator.name, why=str(error)),)
    except ImpossibleError as error:
        return None, (problem(MESSAGES, "calc.impossible", calculator.name, why=str(error)),)
    if not all(_finite(one) for one in (*outcome.main, *outcome.also)):
        return None, (problem(MESSAGES, "calc.not_finite", calculator.name),)
    main = tuple(_with_doubt(calculator, given, one) for one in outcome.main)
    also = tuple(_with_doubt(calculator, given, one) for one in outcome.also)
    lost = [
        f"The +- could not be carried to {one.name}: so near, the formula ends."
        for one in main
        if calculator.carries and _lost(one, given)
    ]
    return Answer(calculator, given, main, also, (*warnings, *outcome.warnings, *lost)), ()


def _lost(result: Result, given: Given) -> bool:
    return bool(given.u) and result.u is None and not result.counted and not isinstance(result.value, str)


def _finite(result: Result) -> bool:
    return isinstance(result.value, str) or math.isfinite(result.value)


def _with_doubt(calculator: Calculator, given: Given, result: Result) -> Result:
    """The result with the doubt of the inputs joined to its own; as it is where no input carries one."""
    if isinstance(result.value, str) or result.counted or not given.u or not calculator.carries:
        return result
    flat = {(name, i): value for name, values in given.numbers.items() for i, value in enumerate(values)}
    keys = {f"{name} {i}": (name, i) for name, i in flat}
    values = {text: flat[key] for text, key in keys.items()}
    doubts = {text: given.u[name][i] for text, (name, i) in keys.items() if name in given.u}
    moved = propagated(lambda changed: _again(calculator, given, changed, result.name), values, doubts)
    if moved is None:
        return result
    return replace(result, u=in_quadrature(moved[1], result.u or 0.0))


def _again(calculator: Calculator, given: Given, changed: Mapping[str, float], name: str) -> float | None:
    """The same figure for changed numbers; None where there is none."""
    numbers = {key: tuple(changed[f"{key} {i}"] for i in range(len(old))) for key, old in given.numbers.items()}
    try:
        outcome = calculator.run(replace(given, numbers=numbers))
    except ImpossibleError:
        return None
    found = named(outcome, name)
    return found.value if found is not None and isinstance(found.value, float | int) else None


def named(outcome: Outcome | Answer, name: str) -> Result | None:
    """The figure of that name, None where it is not in this outcome."""
    return next((one for one in (*outcome.main, *outcome.also) if one.name == name), None)


def to_json(answer: Answer) -> dict[str, object]:
    """`name`, `value`, `unit`, `source`; `uncertainty`, `also` and `warnings` where there are any.

    With several asked figures `value` and `uncertainty` are objects by name, and so is `unit` unless all are alike.
    """
    main, calculator = answer.main, answer.calculator
    found: dict[str, object] = {"name": calculator.name}
    if len(main) == 1:
        found |= {"value": main[0].value, "unit": main[0].unit}
        if main[0].u is not None:
            found["uncertainty"] = main[0].u
    else:
        units = {one.unit for one in main}
        found["value"] = {one.name: one.value for one in main}
        found["unit"] = units.pop() if len(units) == 1 else {one.name: one.unit for one in main}
        doubts = {one.name: one.u for one in main if one.u is not None}
        found |= {"uncertainty": doubts} if doubts else {}
    found["source"] = calculator.source
    if answer.also:
        found["also"] = {one.name: _figure(one) for one in answer.also}
    if answer.warnings:
        found["warnings"] = list(answer.warnings)
    return found


def _figure(one: Result) -> dict[str, object]:
    words = {"value": one.value} if isinstance(one.value, str) else {"value": one.value, "unit": one.unit}
    return words | ({} if one.u is None else {"uncertainty": one.u})
