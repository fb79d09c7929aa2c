"""What digits with marks can mean, `1.450,00` or `1 450`, where the kind of thing says how many decimals it has.

A point or comma is a decimal mark or a mark of thousands, and the text alone often does not say which. What is counted
in cents has two decimals at most, so three digits behind a mark are thousands; what has three decimals or more is read
in two ways, and both are given back.
"""

import re
from decimal import Decimal
from typing import Literal

Trouble = Literal["not_a_number", "several_marks", "too_fine"]
MOST_DIGITS = 15

_SHAPE = re.compile(r"[0-9]*(?:[., '][0-9]+)*[.,]?")
_MARK = re.compile(r"[., ']")
GROUP = 3


def figures(body: str, places: int) -> tuple[Decimal, ...] | Trouble:
    """Every value that the digits can have with at most `places` decimals: one, or two with the likelier first.

    `body` has plain signs and neither sign nor unit. More decimals than `places` are taken only where they are zeros.
    """
    if not _SHAPE.fullmatch(body) or not any(sign.isdigit() for sign in body):
        return "not_a_number"
    marks, parts = _MARK.findall(body), _MARK.split(body)
    if sum(map(len, parts)) > MOST_DIGITS:
        return "not_a_number"
    if not marks:
        return (Decimal(body),)
    if parts[-1] == "":  # "1450." and "1450,"
        whole = _groups(marks[:-1], parts[:-1]) and len(set(marks)) == 1
        return (Decimal("".join(parts)),) if whole else "several_marks"
    if len(marks) == 1:
        return _one_mark(marks[0], parts[0], parts[1], places)
    return _more_marks(marks, parts, places)


def _one_mark(mark: str, head: str, tail: str, places: int) -> tuple[Decimal, ...] | Trouble:
    grouped = _groups([mark], [head, tail])
    if mark in " '":
        return (Decimal(head + tail),) if grouped else "not_a_number"
    decimal = Decimal(f"{head or '0'}.{tail}")
    if len(tail) == GROUP and (grouped or tail == "000") and head.strip("0"):
        thousands = Decimal(head + tail)
        if not grouped:  # 1450.000: nobody writes thousands so, and nobody zeros of a tenth of a cent
            return (decimal, thousands)
        return (thousands,) if places < GROUP else (decimal, thousands)
    return (decimal,) if not tail[places:].strip("0") else "too_fine"


def _more_marks(marks: list[str], parts: list[str], places: int) -> tuple[Decimal, ...] | Trouble:
    if len(set(marks)) == 1:
        return (Decimal("".join(parts)),) if _groups(marks, parts) else "several_marks"
    last, tail = marks[-1], parts[-1]
    whole = "".join(parts[:-1])
    if last not in ".," or last in marks[:-1] or not _groups(marks[:-1], parts[:-1]):
        return "several_marks"
    decimal = Decimal(f"{whole}.{tail}")
    if len(tail) == GROUP and marks[0] in " '" and places < GROUP:  # 1 450.000
        return (decimal, Decimal(whole + tail)) if tail == "000" else "several_marks"
    return (decimal,) if not tail[places:].strip("0") else "too_fine"


def _groups(marks: list[str], parts: list[str]) -> bool:
    """Whether the digits stand in thousands, 1,450,000, or in the groups of India, 14,50,000."""
    if not marks:
        return bool(parts[0])
    first, *inner, last = parts
    if len(set(marks)) != 1 or len(last) != GROUP or not first or first[0] == "0":
        return False
    thirds = len(first) <= GROUP and all(len(one) == GROUP for one in inner)
    indian = marks[0] == "," and inner and len(first) <= 2 and all(len(one) == 2 for one in inner)
    return bool(thirds or indian)
