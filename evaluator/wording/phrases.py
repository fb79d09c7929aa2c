"""How a phrase is set in a sentence and a typed text on a paper: with a capital or without, ended or not, quoted, and
without ways to reach somebody, which stay with the workshop. The one home of these small rules.
"""

import re
from collections.abc import Sequence

MARKS = '"“”„«»'
INSIDE = str.maketrans({'"': "'", "“": "‘", "”": "’"})  # a quotation within another
HIDDEN = "(kept by the workshop)"
_MAIL = re.compile(r"[\w.+-]+@[\w-]+(\.[\w-]+)+")
# Begins as telephone numbers do, so that a row of measures stays: +, 0, a bracket, or three and three and four digits.
_TELEPHONE = re.compile(r"(?<![\w.,])(?:\+\d|0\d|\(\d)[\d ()/.-]{5,}\d|(?<![\w.,])\d{3}[-.]\d{3}[-.]\d{4}(?!\w)")


def capital(text: str) -> str:
    """To begin a sentence or a line."""
    return text[:1].upper() + text[1:]


def small(text: str) -> str:
    """To go on inside a sentence: no capital, unless the first word is a name in capitals or a single letter."""
    text = text.strip().rstrip(".")
    inside = text[1:2].islower() or text.startswith(("A ", "An "))
    return text[:1].lower() + text[1:] if inside else text


def ended(text: str) -> str:
    """Ended as a sentence."""
    return text if text.endswith((".", "?", "!")) else f"{text}."


def quoted(text: str) -> str:
    """What somebody wrote, in quotation marks; those that it has already are not put round it twice."""
    bare = text.strip()
    if bare[:1] in MARKS and bare[-1:] in MARKS and not any(mark in bare[1:-1] for mark in MARKS):
        bare = bare[1:-1].strip()
    return f"“{bare.translate(INSIDE)}”"


def listed(says: Sequence[str]) -> str:
    """'Dress the pegs, fit a new bridge': the first as it is, the others to go on inside a sentence."""
    first, rest = says[:1], [small(say) for say in says[1:]]
    return ", ".join((*(say.strip().rstrip(".") for say in first), *rest))


def points(scores: Sequence[float]) -> list[str]:
    """Scores in whole points, or with one decimal where two that differ would read the same."""
    whole = [f"{score:.0f}" for score in scores]
    return whole if len(set(whole)) == len(set(scores)) else [f"{score:.1f}" for score in scores]


def undrawn(letters: Sequence[str]) -> str:
    """Which letters a paper shows as a mark, for whoever typed them."""
    return f"On paper these letters are printed as ?: {' '.join(letters)}. Write them in Latin letters beside."


def without_reach(text: str) -> str:
    """The text with telephone numbers and mail addresses taken out."""
    return _TELEPHONE.sub(_hidden, _MAIL.sub(HIDDEN, text))


def _hidden(found: re.Match[str]) -> str:
    return HIDDEN if sum(sign.isdigit() for sign in found.group()) >= 7 else found.group()
