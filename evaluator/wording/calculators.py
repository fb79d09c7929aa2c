"""Calculators and their answers in plain words, and what a calculator takes as JSON."""

from collections.abc import Mapping

from ..basis.show import number, with_unit
from ..calculators.model import ANY, Answer, Calculator, Input, Result
from ..calculators.reading import bounds_in_words
from .names import STATEMENTS

# Decimal places beyond which no workshop measures.
FINEST = {"mm": 3, "deg": 2, "%": 2, "N": 2, "g": 2, "cent": 2, "day": 0, "week": 1}
SEVERAL = {"day": "days", "week": "weeks", "cent": "cents", "semitone": "semitones"}


def digits_of(value: float, unit: str, u: float | None = None) -> int:
    """Decimal places that are worth showing: two figures of the doubt, else four figures of the value."""
    size = abs(u) if u else abs(value) / 100
    digits = min(2, FINEST.get(unit, 8))
    while digits < FINEST.get(unit, 8) and size > 0 and size * 10**digits < 10:
        digits += 1
    while digits > 0 and size * 10**digits >= 100:
        digits -= 1
    return digits


def figure(result: Result) -> str:
    """'54.67 mm', or '54.67 mm (standard uncertainty 0.083 mm)'."""
    if isinstance(result.value, str):
        statement = next((one for one in STATEMENTS if one == result.value), None)
        return result.value if statement is None else f"it {STATEMENTS[statement].verb} the tolerance"
    digits = digits_of(result.value, result.unit, result.u)
    unit = SEVERAL.get(result.unit, result.unit)
    shown = with_unit(number(result.value, digits), unit)
    if shown.startswith("-0") and not float(f"{result.value:.{digits}f}"):
        shown = shown[1:]
    if result.u is None:
        return shown
    return f"{shown} (standard uncertainty {with_unit(number(result.u, digits), unit)})"


def told(answer: Answer) -> str:
    """The answer as lines of text."""
    lines = [f"{one.say}: {figure(one)}" for one in answer.main]
    lines += [f"  {one.say}: {figure(one)}" for one in answer.also]
    lines += [f"Mind: {warning}" for warning in answer.warnings]
    if answer.calculator.caution:
        lines.append(f"Caution: {answer.calculator.caution}")
    return "\n".join([*lines, f"Holds: {answer.calculator.holds}", f"Source: {answer.calculator.source}"])


def command_of(calculator: Calculator) -> str:
    """The example as it is typed."""
    pairs = (
        f'{key}="{value}"' if set(value) & set(" ;") else f"{key}={value}" for key, value in calculator.example.items()
    )
    return " ".join(["evaluator calc", calculator.name, *pairs])


def listing(calculators: Mapping[str, Calculator]) -> str:
    """All calculators, one a line, with how to ask for more."""
    wide = max(len(name) for name in calculators)
    lines = [f"{one.name:<{wide}}  {one.gives}" for one in calculators.values()]
    return "\n".join(
        [*lines, "", "evaluator calc NAME tells what it takes; evaluator calc NAME key=value... works it out."]
    )


def takes(one: Input) -> str:
    """What may be written for an input: unit, bounds, choices, default."""
    parts = []
    if one.choices:
        parts.append("one of " + ", ".join(one.choices))
    elif one.kind == "points":
        parts.append(f"points of {one.width} numbers" + (f" in {one.unit}" if one.unit != "ratio" else ""))
    elif one.kind != "number":
        parts.append({"note": "a note such as A4", "date": "year-month-day"}[one.kind])
    elif one.unit == ANY:
        parts.append("any unit, the same for all")
    else:
        parts.append("a number" if one.unit == "ratio" else one.unit)
    if one.many and one.kind != "points":
        parts.append("a list")
    if one.kind == "number" and (bounds := bounds_in_words(one, "ratio" if one.unit == ANY else one.unit)):
        parts.append(bounds)
    parts.append("needed" if one.required else f"else {one.default}" if one.default is not None else "may be left out")
    return ", ".join(parts)


def explained(calculator: Calculator) -> str:
    """What a calculator gives, takes and rests on."""
    wide = max(len(one.name) for one in calculator.inputs)
    lines = [f"{calculator.name}: {calculator.gives}", ""]
    lines += [f"  {one.name:<{wide}}  {one.say} ({takes(one)})" for one in calculator.inputs]
    lines += ["", f"Example: {command_of(calculator)}", f"Holds: {calculator.holds}", f"Source: {calculator.source}"]
    return "\n".join(lines + ([f"Caution: {calculator.caution}"] if calculator.caution else []))


def description(calculator: Calculator) -> dict[str, object]:
    """What a calculator gives and takes, for JSON."""
    inputs = [
        {
            "name": one.name,
            "say": one.say,
            "unit": one.unit,
            "kind": one.kind,
            "required": one.required,
            "takes": takes(one),
        }
        | ({"default": one.default} if one.default is not None else {})
        | ({"choices": list(one.choices)} if one.choices else {})
        for one in calculator.inputs
    ]
    return {
        "name": calculator.name,
        "gives": calculator.gives,
        "inputs": inputs,
        "holds": calculator.holds,
        "source": calculator.source,
        "example": dict(calculator.example),
    }
