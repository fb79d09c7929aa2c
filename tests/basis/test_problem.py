"""Mistakes as values: near words while they help, and a count of what is not listed."""

from collections.abc import Iterator

from evaluator.basis.problem import MOST_TOLD, Hints, Problem, did_you_mean, first_told


def test_a_near_word_is_named_and_a_far_one_is_not() -> None:
    assert did_you_mean("wieght", ["height", "weight"]) == 'Did you mean "weight"?'
    assert did_you_mean("purfling", ["height", "weight"]) == ""


def test_near_words_are_looked_for_while_there_are_few() -> None:
    searched = 0

    def known() -> Iterator[str]:
        nonlocal searched
        searched += 1
        yield "weight"

    hints = Hints()
    found = [hints.near("wieght", known()) for _ in range(60_000)]
    assert found[MOST_TOLD - 1] == 'Did you mean "weight"?' and found[MOST_TOLD] == ""
    assert searched == MOST_TOLD


def test_fifty_are_listed_and_the_rest_is_counted() -> None:
    many = [Problem("x", "", f"mistake {i}.") for i in range(MOST_TOLD + 3)]
    assert first_told(many) == (many[:MOST_TOLD], "And 3 more.")
    assert first_told(many[:MOST_TOLD]) == (many[:MOST_TOLD], "")
