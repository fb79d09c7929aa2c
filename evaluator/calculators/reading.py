"""From what was typed, `key=value`, to numbers in a calculator's units: every mistake is told, nothing is clipped.

In a list a semicolon separates, or a comma where there is no semicolon. A number that stands behind +- is a standard
uncertainty in the unit of its value.
"""

import re
from collections.abc import Iterable, Mapping
from dataclasses import replace
from datetime import date
from difflib import get_close_matches

from ..basis.problem import Message, Messages, Problem, did_you_mean, problem
from ..basis.show import number, with_unit
from ..basis.typed.quantities import Between, Quantity, read_quantity
from ..basis.units import UNITS, Unit, unit_named
from ..lutherie.strings import note_number
from .model import ANY, Calculator, Given, Input

MESSAGES: Messages = {
    "calc.no_equals": Message('"{text}" is not an input.', "Write key=value, for example {example}."),
    "calc.twice": Message("it is given twice.", "Give it once; separate several values by semicolons."),
    "calc.unknown_key": Message("there is no such input.", "{hint}It takes {known}."),
    "calc.missing": Message("it is missing.", "Give {say}, for example {example}."),
    "calc.bounds": Message("{shown} is {what}.", "Give {say} {bounds}."),
    "calc.count": Message("{count} given, but it takes {wanted}.", "Separate values by semicolons, as in {example}."),
    "calc.point": Message(
        '"{text}" is not a point of {width} numbers.',
        "Write points as {example}: commas inside a point, semicolons between points, decimal points in numbers.",
    ),
    "calc.choice": Message('"{text}" is not a choice.', "{hint}Choose from {known}."),
    "calc.note": Message('"{text}" is not a note.', "Write its letter and octave, for example A4, F#5 or Bb3."),
    "calc.date": Message('"{text}" is not a date.', "Write year-month-day, for example 2024-03-31."),
    "calc.no_doubt": Message("it cannot carry +-.", "Leave out what stands behind +-."),
}

_PLUS_MINUS = re.compile(r"\+-|\+/-|±")
_DECIMAL_COMMA = re.compile(r"\s*[0-9]+,[0-9]+\D*")
_UNIT = re.compile(r"[0-9.,)]\s*([^0-9\s.,+\-−/±][^0-9±]*[23²³]?)$")

Read = tuple[Given, tuple[str, ...]]


def split_pairs(texts: Iterable[str], example: Mapping[str, str]) -> tuple[dict[str, str], tuple[Problem, ...]]:
    """`key=value` texts as a mapping; a text without '=' and a key that comes twice are mistakes."""
    typed: dict[str, str] = {}
    problems = []
    shown = " ".join(f"{key}={value}" for key, value in list(example.items())[:1])
    for text in texts:
        key, equals, value = text.partition("=")
        if not equals or not key.strip():
            problems.append(problem(MESSAGES, "calc.no_equals", text=text[:40], example=shown))
        elif key.strip() in typed:
            problems.append(problem(MESSAGES, "calc.twice", key.strip()))
        else:
            typed[key.strip()] = value
    return typed, tuple(problems)


def read(calculator: Calculator, typed: Mapping[str, str]) -> tuple[Read | None, tuple[Problem, ...]]:
    """What was given and the warnings about it, or all mistakes in it."""
    known = {one.name: one for one in calculator.inputs}
    problems = [_unknown(key, known) for key in typed if key not in known]
    # A misspelt key has been told with the right one: not told again as missing.
    meant = {near for key in typed if key not in known for near in get_close_matches(key, known, n=1, cutoff=0.6)}
    unit = _common_unit(calculator, typed)
    numbers: dict[str, tuple[float, ...]] = {}
    words: dict[str, tuple[str, ...]] = {}
    doubts: dict[str, tuple[float, ...]] = {}
    warnings: list[str] = []
    for one in calculator.inputs:
        text = typed.get(one.name, one.default)
        if text is None:
            if one.required and one.name not in meant:
                example = f"{one.name}={calculator.example.get(one.name, one.default)}"
                problems.append(problem(MESSAGES, "calc.missing", one.name, say=_decapital(one.say), example=example))
            continue
        if one.kind in {"number", "points"}:
            found, wrong = _numbers(one, text, unit)
            numbers[one.name] = tuple(quantity.value for quantity in found)
            if any(quantity.plus_minus for quantity in found):
                doubts[one.name] = tuple(quantity.plus_minus or 0.0 for quantity in found)
            if wrong:
                wrong[0] = replace(wrong[0], what_to_do=" ".join([wrong[0].what_to_do, *_comma(one, text)]))
            else:
                warnings += _outside(one, numbers[one.name], unit)
                warnings += [f"{one.name}: {said}" for said in _comma(one, text)]
            problems += wrong
        else:
            said, wrong = _words(one, text)
            problems += wrong
            words[one.name] = said
    if problems:
        return None, tuple(problems)
    return (Given(numbers, words, doubts, unit), tuple(warnings)), ()


def unit_of(one: Input, unit: str) -> str:
    """The unit of an input, `unit` where it may be anything."""
    return unit if one.unit == ANY else one.unit


def _unknown(key: str, known: Mapping[str, Input]) -> Problem:
    hint = did_you_mean(key, known)
    return problem(MESSAGES, "calc.unknown_key", key, hint=f"{hint} " if hint else "", known=", ".join(known))


def _common_unit(calculator: Calculator, typed: Mapping[str, str]) -> str:
    """The first unit written in an input of any unit; a plain number where none is."""
    for one in calculator.inputs:
        for part in re.split(r"[;,]", typed.get(one.name, "")) if one.unit == ANY else ():
            match = _UNIT.search(part.strip())
            found: Unit | None = unit_named(match[1].strip()) if match else None
            if found is not None:
                return found.name
    return "ratio"


def parts_of(one: Input, text: str) -> list[str]:
    """The single values of a text: split at semicolons or, in a list without any, at commas."""
    if not one.many:
        return [text]
    pieces = text.split(";") if ";" in text else text.split(",")
    return pieces[:-1] if len(pieces) > 1 and not pieces[-1].strip() else pieces


def _numbers(one: Input, text: str, common: str) -> tuple[list[Quantity], list[Problem]]:
    unit = unit_of(one, common)
    if one.kind == "points":
        groups = [group for group in text.split(";") if group.strip()]
        pieces = []
        for group in groups:
            cut = [
                part for part in re.split("," if "," in group else r"\s+", group.strip().strip("()")) if part.strip()
            ]
            if len(cut) != one.width:
                example = "; ".join(["0,0,0"[: 2 * one.width - 1]] * 2)
                shown = group.strip()[:40]
                return [], [problem(MESSAGES, "calc.point", one.name, text=shown, width=one.width, example=example)]
            pieces += cut
        count = len(groups)
    else:
        pieces = parts_of(one, text)
        count = len(pieces)
    wrong = [] if one.least <= count <= one.most else [_count(one, count)]
    found = []
    for piece in _same_unit(pieces[: one.most * one.width]):
        quantity = (
            _difference(piece, unit, one)
            if one.difference
            else read_quantity(piece, unit, one.name, spread=True, between=_bounds(one))
        )
        if isinstance(quantity, Problem):
            wrong.append(quantity)
            continue
        found.append(quantity)
        if quantity.plus_minus is not None and not one.doubt:
            wrong.append(problem(MESSAGES, "calc.no_doubt", one.name))
        wrong += _beyond(one, quantity.value, unit)
    return found, wrong


def _bounds(one: Input) -> Between:
    """The least and most that it can be: where the formula is known to hold, else the hard bounds."""
    return Between(*one.valid) if one.valid else Between(one.above if one.above is not None else one.low, one.high)


def _difference(piece: str, unit: str, one: Input) -> Quantity | Problem:
    """A width in `unit`, in which the zero of a temperature scale has no part."""
    plain = read_quantity(piece, unit, one.name)
    if isinstance(plain, Problem) or UNITS[unit].dimension != "temperature":
        return plain
    around = read_quantity(f"0 {unit} +- {piece.strip()}", unit, one.name, spread=True)
    if isinstance(around, Problem) or around.plus_minus is None:
        return around
    return Quantity(-around.plus_minus if piece.strip()[:1] in "-−" else around.plus_minus, unit, piece)


def _same_unit(pieces: list[str]) -> list[str]:
    """A unit written once, behind the last value of a list, holds for all of them."""
    last = _UNIT.search(pieces[-1].strip()) if len(pieces) > 1 else None
    if last is None or any(_UNIT.search(piece.strip()) for piece in pieces[:-1]):
        return pieces
    return [f"{piece} {last[1]}" if piece.strip() else piece for piece in pieces[:-1]] + pieces[-1:]


def _count(one: Input, count: int) -> Problem:
    noun = "point" if one.kind == "points" else "value"
    if one.least == one.most:
        wanted = f"{one.least} {noun}{'' if one.least == 1 else 's'}"
    else:
        wanted = f"{one.least} to {one.most} {noun}s"
    example = "1,0; 2,5; 3,1" if one.kind == "points" else "1; 2; 3"
    return problem(MESSAGES, "calc.count", one.name, count=count, wanted=wanted, example=example)


def _beyond(one: Input, value: float, unit: str) -> list[Problem]:
    """The mistake of a value outside the hard bounds."""
    if one.above is not None and value <= one.above:
        what = f"not above {_shown(one.above, unit)}"
    elif one.low is not None and value < one.low:
        what = f"below {_shown(one.low, unit)}"
    elif one.high is not None and value > one.high:
        what = f"above {_shown(one.high, unit)}"
    else:
        return []
    say, bounds = _decapital(one.say), bounds_in_words(one, unit)
    return [problem(MESSAGES, "calc.bounds", one.name, shown=_shown(value, unit), what=what, say=say, bounds=bounds)]


def bounds_in_words(one: Input, unit: str) -> str:
    """'above 0 mm', 'between 0 % and 100 %'; empty where there are no bounds."""
    floor = one.above if one.above is not None else one.low
    if floor is not None and one.high is not None:
        return f"between {_shown(floor, unit)} and {_shown(one.high, unit)}"
    if one.high is not None:
        return f"up to {_shown(one.high, unit)}"
    if floor is None:
        return ""
    return f"above {_shown(floor, unit)}" if one.above is not None else f"from {_shown(floor, unit)} up"


def _outside(one: Input, values: Iterable[float], common: str) -> list[str]:
    if one.valid is None:
        return []
    low, high = one.valid
    unit = unit_of(one, common)
    span = f"{_shown(low, unit)} to {_shown(high, unit)}"
    return [
        f"{one.name}: {_shown(value, unit)} lies outside {span}, where the formula has been checked or is usual."
        for value in values
        if not low <= value <= high
    ]


def _comma(one: Input, text: str) -> list[str]:
    """A list of two that may have been one number with a decimal comma."""
    if not one.many or one.kind != "number" or ";" in text or not _DECIMAL_COMMA.fullmatch(text):
        return []
    return [f'"{text.strip()}" was read as two values; write a decimal point if it is one.']


def _words(one: Input, text: str) -> tuple[tuple[str, ...], list[Problem]]:
    pieces = [piece.strip() for piece in (re.split(r"[;,]", text) if one.many else [text])]
    wrong = [] if one.least <= len(pieces) <= one.most else [_count(one, len(pieces))]
    wrong += [found for piece in pieces[: one.most] if (found := _not_a_word(one, piece)) is not None]
    return tuple(pieces), wrong


def _not_a_word(one: Input, piece: str) -> Problem | None:
    shown = piece[:40]
    if one.kind == "choice" and piece not in one.choices:
        hint = did_you_mean(piece, one.choices)
        hint = f"{hint} " if hint else ""
        return problem(MESSAGES, "calc.choice", one.name, text=shown, hint=hint, known=", ".join(one.choices))
    if one.kind == "note" and note_number(piece) is None:
        return problem(MESSAGES, "calc.note", one.name, text=shown)
    if one.kind == "date" and not _is_date(piece):
        return problem(MESSAGES, "calc.date", one.name, text=shown)
    return None


def _is_date(text: str) -> bool:
    if not re.fullmatch(r"[0-9]{4}-[0-9]{2}-[0-9]{2}", text):
        return False
    try:
        return date.fromisoformat(text).year <= 9000
    except ValueError:
        return False


def _shown(value: float, unit: str) -> str:
    digits = 2 if abs(value) >= 1 or value == 0 else 6
    return with_unit(number(value, digits), "" if UNITS[unit].dimension == "ratio" and unit != "%" else unit)


def _decapital(text: str) -> str:
    return text[:1].lower() + text[1:] if text[1:2].islower() else text
