"""The signs of a typed text brought to plain ones, signs that belong to no text, and what digits with marks can mean.

A phone puts a thin space into 1 450, a word processor a long dash before 3, a Japanese keyboard digits of full width:
all mean what they look like. Digits of other scripts stay as they are, and so are no numbers here.

A point or comma is a decimal mark or a mark of thousands, and the text alone often does not say which: `1.450,00` or
`1 450`. What is counted in cents has two decimals at most, so three digits behind a mark are thousands; what has three
decimals or more is read in two ways, and both are given back.
"""

import re
from decimal import Decimal
from typing import Literal

from ..problem import Message, Messages, Problem, problem

MESSAGES: Messages = {
    "text.sign": Message(
        "a sign stands in {what} that is no letter and no figure (number {sign} of the table of signs).",
        "Take it out, or type the text anew.",
    ),
}

_NO_TEXT = re.compile("[\x00-\x08\x0b\x0c\x0e-\x1f\x7f\ud800-\udfff\ufffe\uffff]")
_SPACE = re.compile(r"[ \r\n]+")
_SPACES = "\t\u00a0\u1680\u2000\u2001\u2002\u2003\u2004\u2005\u2006\u2007\u2008\u2009\u200a\u202f\u205f\u3000"
_UNSEEN = "\u200b\u200c\u200d\u200e\u200f\u202a\u202b\u202c\u202d\u202e\u2060\u2066\u2067\u2068\u2069\ufeff"
_MINUS = "\u2010\u2011\u2012\u2013\u2014\u2015\u2212\ufe58\ufe63\uff0d"
_FRACTIONS = {
    "½": "1/2", "¼": "1/4", "¾": "3/4", "⅓": "1/3", "⅔": "2/3", "⅛": "1/8", "⅜": "3/8", "⅝": "5/8", "⅞": "7/8",
}  # fmt: skip

_PLAIN: dict[int, str | None] = {
    **{ord(sign): " " for sign in _SPACES},
    **dict.fromkeys(map(ord, _UNSEEN)),
    **{ord(sign): "-" for sign in _MINUS},
    **{full: chr(full - 0xFEE0) for full in range(0xFF01, 0xFF5F) if full != 0xFF0D},  # ０ of full width and its like
    ord("⁄"): "/",
    ord("∕"): "/",
    ord("’"): "'",
    ord("‘"): "'",
    ord("ʼ"): "'",
    ord("￡"): "£",
    ord("￥"): "¥",
    **{ord(sign): f" {written}" for sign, written in _FRACTIONS.items()},
}
Trouble = Literal["not_a_number", "several_marks", "too_fine"]
MOST_DIGITS = 15

_SHAPE = re.compile(r"[0-9]*(?:[., '][0-9]+)*[.,]?")
_MARK = re.compile(r"[., ']")
GROUP = 3


def plain(text: str) -> str:
    """The text with plain spaces, minus signs, apostrophes, fractions and digits, without what cannot be seen."""
    return _SPACE.sub(" ", text.translate(_PLAIN)).strip(" ")


def sign_problem(text: str, where: str = "", what: str = "it") -> Problem | None:
    """The mistake of a text that holds a zero byte or another control sign; None for a text of letters and lines."""
    found = _NO_TEXT.search(text)
    return problem(MESSAGES, "text.sign", where, what=what, sign=ord(found[0])) if found else None


def shortly(text: str) -> str:
    """What was typed, on one line and cut, so that a sentence that quotes it stays one sentence."""
    line = " ".join(text.split())
    return line if len(line) <= 30 else line[:29] + "…"


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
