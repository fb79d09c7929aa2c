"""The signs of a typed text brought to plain ones, and signs that belong to no text.

A phone puts a thin space into 1 450, a word processor a long dash before 3, a Japanese keyboard digits of full width:
all mean what they look like. Digits of other scripts stay as they are, and so are no numbers here.
"""

import re

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
