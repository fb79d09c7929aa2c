"""What of a typed text may stand on a paper: ways to reach somebody stay with the workshop."""

import re

HIDDEN = "(kept by the workshop)"
_MAIL = re.compile(r"[\w.+-]+@[\w-]+(\.[\w-]+)+")
# Begins as telephone numbers do, so that a row of measures stays: +, 0, a bracket, or three and three and four digits.
_TELEPHONE = re.compile(r"(?<![\w.,])(?:\+\d|0\d|\(\d)[\d ()/.-]{5,}\d|(?<![\w.,])\d{3}[-.]\d{3}[-.]\d{4}(?!\w)")


def without_reach(text: str) -> str:
    """The text with telephone numbers and mail addresses taken out."""
    return _TELEPHONE.sub(_hidden, _MAIL.sub(HIDDEN, text))


def _hidden(found: re.Match[str]) -> str:
    return HIDDEN if sum(sign.isdigit() for sign in found.group()) >= 7 else found.group()
