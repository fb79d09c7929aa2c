"""The one reader of lengths, weights and other readings with a unit: `2,35`, `2.35 mm`, `1 1/64 in`, `12 15/16"`.

A comma is a decimal mark like a point. Instruments are measured in millimetres and grams, so nobody needs thousands
there: `1 000` and `1.000,5` are refused. Only three digits behind one mark, `2,350` and `2.350`, look like both. What
is measured has bounds, and where one of the two readings alone lies within them, that one is meant: 2.35 mm of a nut,
and 2,350 g of a cello. Where both do, or nothing is known, a point is decimal, as the pages write it and a caliper
shows it (12.938 in), and a comma is asked back with both readings. No exponents, no names of numbers, no digits of
other scripts. The text is kept beside the value.
"""

import math
import re
from typing import NamedTuple, TypedDict

from ..frozen import dataclass
from ..problem import Message, Messages, Problem, did_you_mean, problem
from ..units import EXAMPLES, SPELLINGS, UNITS, WITH_ARTICLE, convert, unit_named
from .signs import plain, sign_problem
from .signs import shortly as _short

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
    "reading.two_readings": Message('"{text}" can be {first} or {second}.', "Write {first} or {second}."),
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
_LIKE_THOUSANDS = re.compile(r"[1-9][0-9]{0,2}[.,][0-9]{3}")
_OWN_UNIT = re.compile(r"[^\W\d_]|[\"'”°%″′]")


class Between(NamedTuple):
    """The least and the most that a value can be, in the wanted unit; None where there is no bound."""

    least: float | None = None
    most: float | None = None

    def holds(self, value: float) -> bool:
        return (self.least is None or value >= self.least) and (self.most is None or value <= self.most)


ANY = Between()


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


def read_quantity(
    text: object, unit: str, where: str = "", *, spread: bool = False, between: Between = ANY
) -> Quantity | Problem:
    """What a person wrote as a quantity in `unit` (a key of UNITS), or one sentence about why it is none.

    Without a unit in the text the wanted unit is meant. `spread` also allows "328 mm +- 0.5 mm". `between` only tells
    two readings of one text apart: the caller refuses what lies outside. Numbers from YAML or JSON come in as int or
    float.
    """
    words = _wanted(unit)
    if isinstance(text, bool) or not isinstance(text, (str, int, float)):
        return problem(MESSAGES, "reading.not_a_number", where, text=_short(str(text)), **words)
    if isinstance(text, (int, float)):
        return _from_number(text, unit, where, words)
    if strange := sign_problem(text, where):
        return strange
    written = plain(text)
    if not written:
        return problem(MESSAGES, "reading.empty", where, **words)
    if len(written) > MAX_LENGTH:
        return problem(MESSAGES, "reading.too_long", where, **words)
    main, *rest = _PLUS_MINUS.split(written) if spread else [written]
    first = _one(main + _unit_behind(main, rest), unit, where, words, between)
    if isinstance(first, Problem) or not rest:
        return first if isinstance(first, Problem) else Quantity(first[0], unit, text)
    half = _half_width(rest, first[1], unit, where, words)
    return half if isinstance(half, Problem) else Quantity(first[0], unit, text, half)


def with_unit_behind(text: str, unit: str | None) -> str:
    """The text with the unit that was chosen beside it, where it names none of its own."""
    return f"{text.strip()} {unit}" if unit and text.strip() and not _OWN_UNIT.search(plain(text)) else text


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


def _one(
    written: str, unit: str, where: str, words: _Words, between: Between | None = None
) -> tuple[float, str] | Problem:
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
    known = unit_named(written_unit or unit)
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
    values = [convert(value, known.name, unit)]
    if between is not None and _LIKE_THOUSANDS.fullmatch(match["decimal"] or ""):
        values.append(convert(value * 1000, known.name, unit))
    meant = _meant(values, match["decimal"] or "", between)
    if meant is None:
        asked = {"first": f"{value:g} {known.name}", "second": f"{value * 1000:.0f} {known.name}"}
        asked = {name: said.removesuffix(" ratio") for name, said in asked.items()}
        return problem(MESSAGES, "reading.two_readings", where, None, text=_short(written), **asked)
    return meant, known.name


def _meant(values: list[float], decimal: str, between: Between | None) -> float | None:
    """The one that can be; of two, where both can or neither, the decimal one if its mark is a point, else None."""
    possible = [one for one in values if between is None or between.holds(one)]
    if len(possible) == 1:
        return possible[0]
    return values[0] if len(values) == 1 or "." in decimal else None


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
