"""Signs as phones and word processors write them, and signs that belong to no text."""

import pytest

from evaluator.basis.typed.signs import plain, shortly, sign_problem


@pytest.mark.parametrize(
    ("typed", "meant"),
    [
        ("1\u202f450", "1 450"),
        ("1\u00a0450\u2009€", "1 450 €"),
        ("\u2212 3", "- 3"),
        ("１４５０，５０", "1450,50"),
        ("1½ h", "1 1/2 h"),
        ("\u200e1450\u202c", "1450"),
        ("1’450", "1'450"),
        ("  1 \r\n 2  ", "1 2"),
        ("٣", "٣"),
    ],
)
def test_what_looks_alike_is_alike(typed: str, meant: str) -> None:
    assert plain(typed) == meant


@pytest.mark.parametrize("sign", ["\x00", "\x07", "\x1f", "\x7f", "\ud800", "\uffff"])
def test_a_sign_that_is_no_text_is_told_by_its_number(sign: str) -> None:
    found = sign_problem(f"a{sign}b", "Note")
    assert found is not None and str(found).startswith("Note: a sign stands in it") and str(ord(sign)) in str(found)


def test_lines_and_letters_are_text() -> None:
    assert sign_problem("Łódź\n\t„ok“ 🎻") is None


def test_a_quoted_text_is_one_short_line() -> None:
    assert shortly("a\nb") == "a b" and len(shortly("x" * 99)) == 30
