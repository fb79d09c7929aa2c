"""Who comes first, by the shares of the draws and by what is advised of each, and how that is told."""

from dataclasses import replace
from functools import cache

import pytest

from evaluator.choosing.candidates import Comparison, Look
from evaluator.choosing.entrants import Entrant
from evaluator.choosing.side_by_side import Ahead, First, SideBySide, first_of, left_before, side_by_side
from evaluator.result.making.result import result_of
from evaluator.valuation.model import Advice
from evaluator.wording.choosing.comparison import sentence_of
from tests.papers.cases import FEW, content, evaluation_of, rubric, shop


@cache
def pair() -> SideBySide:
    one = result_of(evaluation_of(content(FEW), draws=100))
    found = side_by_side([Entrant(name, one, rubric("violin")) for name in ("Ada", "Bea")], shop())
    assert isinstance(found, SideBySide)
    return found


def compared(
    shares: tuple[float, float], advice: tuple[Advice, Advice] = ("buy", "buy"), turns: float = 0.0
) -> SideBySide:
    """Two candidates that are first in these shares of the draws; `turns`: the chance that a look turns their order."""
    entrants = tuple(
        replace(one, result=replace(one.result, verdict=replace(one.result.verdict, advice=said)))
        for one, said in zip(pair().entrants, advice, strict=True)
    )
    looks = (Look(0, "whole", ("outline_symmetry",), 2.0, turns),) if turns else ()
    return replace(pair(), entrants=entrants, found=Comparison(shares, (900.0, 900.0), looks))


@pytest.mark.parametrize(
    ("shares", "advice", "found", "said"),
    [
        ((0.96, 0.04), ("buy", "buy"), Ahead.ALWAYS, "“Ada” comes first, whatever counts most for you."),
        ((0.95, 0.05), ("buy", "buy"), Ahead.ALWAYS, "“Ada” comes first, whatever counts most for you."),
        ((0.949, 0.051), ("buy", "buy"), Ahead.OFTENER,
         "“Ada” comes first more often than the others, in 95% of cases."),
        ((0.3, 0.7), ("buy", "buy"), Ahead.OFTENER, "“Bea” comes first more often than the others, in 70% of cases."),
        ((0.6, 0.4), ("buy", "buy"), Ahead.CLOSE,
         "It is close between “Ada” and “Bea”: it hangs on what counts most for you."),
        ((0.61, 0.39), ("buy", "buy"), Ahead.OFTENER,
         "“Ada” comes first more often than the others, in 61% of cases."),
        ((0.9, 0.1), ("walk_away", "buy"), Ahead.TO_BE_LEFT,
         "“Ada” is ahead on paper, but should be left at its price. Of the rest “Bea” is first."),
        ((0.9, 0.1), ("walk_away", "walk_away"), Ahead.NONE,
         "None of them is worth buying at the price that is asked."),
        ((0.6, 0.4), ("buy", "walk_away"), Ahead.OFTENER,
         "“Ada” comes first more often than the others, in 60% of cases."),
    ],
)  # fmt: skip
def test_who_comes_first_is_told_to_the_letter(
    shares: tuple[float, float], advice: tuple[Advice, Advice], found: Ahead, said: str
) -> None:
    both = compared(shares, advice)
    assert (first_of(both).ahead, sentence_of(both)) == (found, said)


def test_close_is_nearer_than_a_fifth_of_the_draws() -> None:
    assert first_of(compared((0.595, 0.405))) == First(Ahead.CLOSE, 0, 1, 0.595)
    assert first_of(compared((0.605, 0.395))) == First(Ahead.OFTENER, 0, None, 0.605)


@pytest.mark.parametrize(
    ("turns", "said"),
    [
        (0.09, "“Ada” comes first, whatever counts most for you."),
        (0.1, "So far, “Ada” comes first, whatever counts most for you. Look further before you decide."),
    ],
)
def test_a_look_that_may_well_turn_it_is_said(turns: float, said: str) -> None:
    assert sentence_of(compared((0.97, 0.03), turns=turns)) == said


def test_what_is_to_be_left_and_stands_before_another_is_named() -> None:
    assert left_before(compared((0.9, 0.1), ("walk_away", "buy"))) == (0,)
    assert left_before(compared((0.9, 0.1), ("buy", "walk_away"))) == ()
    assert left_before(compared((0.9, 0.1), ("walk_away", "walk_away"))) == ()
