"""The one reader of numbers that a person typed: `2,35`, `2.35 mm`, `1 1/64 in`, `12 15/16"`, `-3 mm`.

A comma is a decimal point: there is no grouping of thousands, because a reader that drops commas turns 2,3 into 23. No
exponents, no names of numbers, no digits of other scripts. The text is kept beside the value.
"""

import math
import re
from dataclasses import dataclass
from typing import TypedDict

from ..message import Message, Messages, problem
from ..problem import Problem, did_you_mean
from ..units import EXAMPLES, SPELLINGS, UNITS, WITH_ARTICLE, convert, unit_named

MAX_LENGTH = 60
MAX_SIZE = 1e12  # nothing in a workshop is larger in any unit of ours; keeps later squares finite

MESSAGES: Messages = {
    "reading.empty": Message("nothing is written.", "Enter {thing}, for example {example}."),
    "reading.not_a_number": Message('"{text}" is not a number.', "Enter {thing}, for example {example}."),
    "reading.too_long": Message("this is too long for a number.", "Enter {thing}, for example {example}."),
    "reading.too_large": Message('"{text}" is too large a number.', "Enter {thing}, for example {example}."),
    "reading.several_marks": Message(
        '"{text}" has more than one comma or point.', "Enter {thing} without thousands marks, for example {example}."
    ),
    "reading.exponent": Message(
        '"{text}" is written with an exponent.', "Write the digits out, for example {example}."
    ),
    "reading.fraction": Message('"{text}" has a fraction over zero.', "Enter {thing}, for example {example}."),
    "reading.unknown_unit": Message('the unit "{unit}" is not known.', "Enter {thing}, for example {example}. {hint}"),
    "reading.wrong_dimension": Message('"{text}" is {found}.', "Enter {thing}, for example {example}."),
    "reading.not_whole": Message('"{text}" is not a whole number.', "Enter a whole number, for example 2."),
}

_NUMBER = re.compile(
    r"""(?P<sign>[-+−]?)\s*
        (?: (?P<whole>[0-9]+)[ \t]+(?P<over>[0-9]+)\s*[/⁄]\s*(?P<under>[0-9]+)   # 1 1/64
          | (?P<top>[0-9]+)\s*[/⁄]\s*(?P<bottom>[0-9]+)                          # 15/16
          | (?P<decimal>[0-9]+(?:[.,][0-9]*)?|[.,][0-9]+) )                      # 2,35
        \s*(?P<unit>[^0-9\s.,+\-−/][^0-9]{0,14}[²³23]?)?""",
    re.VERBOSE,
)
_PLUS_MINUS = re.compile(r"\s*(?:\+-|\+/-|±)\s*")
_MARKS = re.compile(r"[-+−]?[0-9.,]*[.,][0-9]*[.,][0-9.,]*\s*\D*")
_EXPONENT = re.compile(r"[-+−]?[0-9.,]+[eE][-+]?[0-9]+.*")
_GROUPED = re.compile(r"-?\d{1,3}(,\d{3})+(\.\d{1,2})?")


class _Words(TypedDict):
    """What should have been written, in words: 'a length', '54.5 mm'."""

    thing: str
    example: str


@dataclass(frozen=True, slots=True)
class Quantity:
    """A value in `unit`, with the text it was read from; `plus_minus` is the half-width written after +-, same unit."""

    value: float
    unit: str
    text: str
    plus_minus: float | None = None


def read_quantity(text: object, unit: str, where: str = "", *, spread: bool = False) -> Quantity | Problem:
    """What a person wrote as a quantity in `unit` (a key of UNITS), or one sentence about why it is none.

    Without a unit in the text the wanted unit is meant. `spread` also allows "328 mm +- 0.5 mm". Numbers from YAML or
    JSON come in as int or float.
    """
    words = _wanted(unit)
    if isinstance(text, bool) or not isinstance(text, (str, int, float)):
        return problem(MESSAGES, "reading.not_a_number", where, text=_short(str(text)), **words)
    if isinstance(text, (int, float)):
        return _from_number(text, unit, where, words)
    written = text.strip()
    if not written:
        return problem(MESSAGES, "reading.empty", where, **words)
    if len(written) > MAX_LENGTH:
        return problem(MESSAGES, "reading.too_long", where, **words)
    main, *rest = _PLUS_MINUS.split(written) if spread else [written]
    first = _one(main + _unit_behind(main, rest), unit, where, words)
    if isinstance(first, Problem) or not rest:
        return first if isinstance(first, Problem) else Quantity(first[0], unit, text)
    half = _half_width(rest, first[1], unit, where, words)
    return half if isinstance(half, Problem) else Quantity(first[0], unit, text, half)


def read_whole(text: object, where: str = "") -> int | Problem:
    """A whole number, such as a count or a rating."""
    found = read_quantity(text, "ratio", where)
    if isinstance(found, Problem) and isinstance(text, str) and text.strip():
        return problem(MESSAGES, "reading.not_whole", where, text=_short(text.strip()))
    if isinstance(found, Problem):
        return found
    if found.value != int(found.value) or (isinstance(text, str) and "%" in text):
        return problem(MESSAGES, "reading.not_whole", where, text=_short(str(text)))
    return int(found.value)


def _wanted(unit: str) -> _Words:
    dimension = UNITS[unit].dimension
    thing = "a number" if dimension == "ratio" else WITH_ARTICLE[dimension]
    return {"thing": thing, "example": "30 %" if unit == "%" else EXAMPLES[dimension]}


def _from_number(value: float, unit: str, where: str, words: _Words) -> Quantity | Problem:
    if not math.isfinite(value):
        return problem(MESSAGES, "reading.not_a_number", where, text=str(value), **words)
    if abs(value) > MAX_SIZE:
        return problem(MESSAGES, "reading.too_large", where, text=_short(str(value)), **words)
    return Quantity(float(value), unit, str(value))


def _one(written: str, unit: str, where: str, words: _Words) -> tuple[float, str] | Problem:
    """Value in the wanted unit, and the unit that was written (the wanted one when none was)."""
    match = _NUMBER.fullmatch(written.strip())
    if match is None:
        return problem(MESSAGES, _why_not(written), where, text=_short(written), **words)
    value = _number_of(match)
    if value is None:
        return problem(MESSAGES, "reading.fraction", where, text=_short(written), **words)
    if abs(value) > MAX_SIZE:
        return problem(MESSAGES, "reading.too_large", where, text=_short(written), **words)
    written_unit = (match["unit"] or "").strip()
    if not written_unit:
        return value, unit
    known = unit_named(written_unit)
    if known is None and _EXPONENT.fullmatch(written):
        return problem(MESSAGES, "reading.exponent", where, text=_short(written), **words)
    if known is None:
        here = UNITS[unit].dimension
        near = [name for name in [*UNITS, *SPELLINGS] if (unit_named(name) or UNITS["mm"]).dimension == here]
        hint = did_you_mean(written_unit, near)
        return problem(MESSAGES, "reading.unknown_unit", where, unit=_short(written_unit), hint=hint, **words)
    if known.dimension != UNITS[unit].dimension:
        found = WITH_ARTICLE[known.dimension]
        return problem(MESSAGES, "reading.wrong_dimension", where, text=_short(written), found=found, **words)
    return convert(value, known.name, unit), known.name


def _number_of(match: re.Match[str]) -> float | None:
    """The number before the unit; None for a fraction over zero."""
    sign = -1.0 if match["sign"] in {"-", "−"} else 1.0
    if match["decimal"]:
        return sign * float(match["decimal"].replace(",", "."))
    whole, over, under = (match["whole"], match["over"], match["under"])
    if under is None:
        whole, over, under = ("0", match["top"], match["bottom"])
    return None if int(under) == 0 else sign * (int(whole) + int(over) / int(under))


def _unit_behind(main: str, rest: list[str]) -> str:
    """The unit of "70 +- 1 degF" where it is written once, behind both numbers; else nothing."""
    first, last = _NUMBER.fullmatch(main.strip()), _NUMBER.fullmatch(rest[-1].strip()) if rest else None
    if first is None or last is None or first["unit"] or not last["unit"]:
        return ""
    return " " + str(last["unit"])


def _half_width(rest: list[str], written_unit: str, unit: str, where: str, words: _Words) -> float | Problem:
    """The half-width after +-: a difference, so no offset of a temperature scale applies."""
    if len(rest) > 1:
        return problem(MESSAGES, "reading.not_a_number", where, text=_short("+-".join(rest)), **words)
    found = _one(rest[0], written_unit, where, words)
    if isinstance(found, Problem):
        return found
    in_its_own = convert(found[0], written_unit, found[1])
    return abs(in_its_own) * UNITS[found[1]].factor / UNITS[unit].factor


def _why_not(written: str) -> str:
    if _EXPONENT.fullmatch(written):
        return "reading.exponent"
    return "reading.several_marks" if _MARKS.fullmatch(written) else "reading.not_a_number"


def _short(text: str) -> str:
    """What was typed, cut so that the sentence stays one sentence."""
    return text if len(text) <= 30 else text[:29] + "…"


def without_groups(text: str) -> str:
    """'1,500' or '1,500.50' of a sum of money without its thousands marks; any other text as it is.

    Only for sums: three digits behind a comma are a group there, while a reading of 2,350 kg is not two thousand.
    """
    return text.replace(",", "") if _GROUPED.fullmatch(text) else text
