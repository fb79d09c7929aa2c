"""The readers of typed shares, percentages, factors and whole numbers, none of which has a unit.

A share of a whole is asked for in two ways: `of 100` (75) and as a part of 1 (0.75). With a percent sign both are
clear. Without one, a number that could only be meant in the other way is asked back: 0,19 where percent are asked may
be 19 % or a fifth of one percent.
"""

import re
from decimal import Decimal

from ..problem import Message, Messages, Problem, problem
from .signs import figures, plain, shortly, sign_problem

MAX_LENGTH = 30
DECIMALS = 6

MESSAGES: Messages = {
    "number.empty": Message("nothing is written.", "Enter {thing}, for example {example}."),
    "number.not_a_number": Message('"{text}" is not a number.', "Enter {thing}, for example {example}."),
    "number.two_readings": Message('"{text}" can be {first} or {second}.', "Write {first} or {second}."),
    "number.more_than_all": Message('"{text}" is more than the whole, which is 1.', "Write {first} or {second}."),
    "number.outside": Message('"{text}" is not between {least} and {most}.', "Enter {thing}, for example {example}."),
    "number.not_whole": Message('"{text}" is not a whole number.', "Enter a whole number, for example 2."),
}

_PERCENT = re.compile(r"(.*?) ?(?:%|percent|per cent|prozent|pct)", re.IGNORECASE)


def read_percent(text: object, where: str = "", *, least: float = 0.0, most: float = 100.0) -> float | Problem:
    """Percent (75 for `75`, `75 %`, `75,0`) from `least` to `most`; below 1 without a sign, both readings are told."""
    words = {"thing": "a percentage", "example": "19 %"}
    found = _number(text, where, words)
    if isinstance(found, Problem):
        return found
    value, signed = found
    if 0 < value < 1 and not signed:
        return _asked(text, where, f"{_bare(value * 100)} %", f"{_bare(value)} %")
    return _within(value, text, where, (least, most), words)


def read_share(text: object, where: str = "", *, least: float = 0.0, most: float = 1.0) -> float | Problem:
    """A part of 1 (0.75 for `0.75`, `0,75`, `75 %`); a bare number above 1 is asked back."""
    words = {"thing": "a share of 1", "example": "0.8 or 80 %"}
    found = _number(text, where, words)
    if isinstance(found, Problem):
        return found
    value, signed = found
    if not signed and 1 < value <= 100 and most <= 1:
        readings = {"first": f"{_bare(value)} %", "second": _bare(value / 100)}
        return problem(MESSAGES, "number.more_than_all", where, None, text=shortly(str(text)), **readings)
    return _within(value / 100 if signed else value, text, where, (least, most), words)


def read_factor(text: object, where: str = "", *, least: float = 0.0, most: float = 1e6) -> float | Problem:
    """A plain number such as 1.1; a comma is its decimal mark."""
    words = {"thing": "a number", "example": "1.1"}
    found = _number(text, where, words)
    if isinstance(found, Problem):
        return found
    value, signed = found
    return _within(value / 100 if signed else value, text, where, (least, most), words)


def read_whole(text: object, where: str = "", *, least: int | None = None, most: int | None = None) -> int | Problem:
    """A count or a rating. It has no decimals, so `1.450` is a thousand and more; 2.0 is two."""
    written = plain(str(text)) if isinstance(text, str | int | float) and not isinstance(text, bool) else ""
    if isinstance(text, str) and not written:
        return problem(MESSAGES, "number.empty", where, None, thing="a whole number", example="2")
    sign, digits = (-1, written[1:].strip()) if written[:1] == "-" else (1, written.removeprefix("+"))
    found = figures(digits, 0) if 0 < len(written) <= MAX_LENGTH else "not_a_number"
    if isinstance(found, str) or len(found) > 1:
        return problem(MESSAGES, "number.not_whole", where, None, text=shortly(str(text)))
    value = sign * int(found[0])
    if (least is not None and value < least) or (most is not None and value > most):
        words = {"least": least, "most": most, "thing": "a whole number", "example": max(least or 0, 1)}
        return problem(MESSAGES, "number.outside", where, None, text=shortly(str(text)), **words)
    return value


def _number(text: object, where: str, words: dict[str, str]) -> tuple[Decimal, bool] | Problem:
    """(the number, whether a percent sign stands behind it). A single mark is decimal, however many digits follow."""
    wrong = problem(MESSAGES, "number.not_a_number", where, None, text=shortly(str(text)), **words)
    if isinstance(text, bool) or not isinstance(text, str | int | float) or len(str(text)) > MAX_LENGTH:
        return wrong
    if strange := sign_problem(str(text), where):
        return strange
    written = plain(str(text))
    if not written:
        return problem(MESSAGES, "number.empty", where, None, **words)
    signed = _PERCENT.fullmatch(written)
    body = signed[1] if signed else written
    sign, body = (-1, body[1:].strip()) if body[:1] == "-" else (1, body.removeprefix("+"))
    if not re.fullmatch(r"[0-9]{1,9}(?:[.,][0-9]{0,9})?|[.,][0-9]{1,9}", body):
        return wrong
    return sign * Decimal(body.replace(",", ".").rstrip(".") or "0"), signed is not None


def _within(
    value: Decimal, text: object, where: str, bounds: tuple[float, float], words: dict[str, str]
) -> float | Problem:
    least, most = bounds
    if not least <= value <= most:
        said = {"least": f"{least:g}", "most": f"{most:g}"}
        return problem(MESSAGES, "number.outside", where, None, text=shortly(str(text)), **said, **words)
    return float(value)


def _asked(text: object, where: str, first: str, second: str) -> Problem:
    return problem(MESSAGES, "number.two_readings", where, None, text=shortly(str(text)), first=first, second=second)


def _bare(value: Decimal) -> str:
    return f"{value:f}".rstrip("0").rstrip(".") if "." in f"{value:f}" else f"{value:f}"
