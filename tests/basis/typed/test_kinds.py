"""What was understood, in words, and when a page need not say it."""

from typing import get_args

import pytest

from evaluator.basis.problem import Problem
from evaluator.basis.typed.kinds import Kind, Understood, Wanted, note, understand


@pytest.mark.parametrize(
    ("kind", "text", "said"),
    [
        ("money", "1.450", "1.450 read as 1,450.00 USD"),
        ("money", "1450", ""),
        ("money", "1450.50", ""),
        ("hours", "1.15", "1.15 read as 1 h 9 min"),
        ("hours", "2", ""),
        ("percent", "19 %", "19 % read as 19 %"),
        ("share", "80 %", "80 % read as 80 %"),
        ("factor", "1,125", "1,125 read as 1.125"),
        ("whole", "1.450", "1.450 read as 1,450"),
        ("degrees", "68 °F", "68 °F read as 20 °C"),
    ],
)
def test_what_was_understood(kind: Kind, text: str, said: str) -> None:
    found = understand(text, Wanted(kind))
    assert isinstance(found, Understood), found
    assert note(text, found, kind) == said


@pytest.mark.parametrize("kind", get_args(Kind))
def test_every_kind_refuses_what_is_none_of_it(kind: Kind) -> None:
    for text in ("", "much", "\x00", "-3"):
        assert isinstance(understand(text, Wanted(kind)), Problem), text


def test_bounds_hold_after_a_change_of_unit() -> None:
    assert isinstance(understand("120 °F", Wanted("degrees", most=35)), Problem)
