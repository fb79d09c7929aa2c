"""Readings of the bench: the places of our own file, what can be read, and what is kept."""

from dataclasses import replace

import pytest

from evaluator.basis.problem import Problem
from evaluator.quoting.readings import BenchReading, measured, read, told, with_reading
from evaluator.rubric.facts import load_bench
from evaluator.rubric.knowledge import BenchMeasure
from evaluator.store.folders import rubrics_folder
from tests.known import shipped

BENCH, PROBLEMS = load_bench(rubrics_folder() / "bench.yaml")
HOLE = BenchReading("peg_hole", "Peg holes", "1st string, far wall", "mm")


def of(measure: str) -> BenchMeasure:
    assert BENCH is not None, PROBLEMS
    return next(one for one in BENCH.bench if one.measure == measure)


def test_what_a_luthier_measures_is_there() -> None:
    violin = shipped("violin")
    assert BENCH is not None, PROBLEMS
    assert violin is not None
    places = {one.measure: len(one.places) for one in BENCH.of("violin")}
    assert places == {"groove_depth": 4, "scoop": 2, "middle_heights": 2, "peg_hole": 8}
    assert BENCH.of("bow") == ()
    for one in BENCH.bench:
        assert set(one.jobs) <= set(violin.jobs), one.measure


@pytest.mark.parametrize(
    ("text", "shown"),
    [("7.5", "7.5 mm"), ("7,5", "7.5 mm"), ("0.3 in", "7.62 mm"), ("8 +- 0.1", "8 ± 0.1 mm"), ("", "")],
)
def test_a_reading_is_told_in_its_unit(text: str, shown: str) -> None:
    assert told(text, "mm") == shown
    assert not text or not isinstance(read(text, of("peg_hole"), "here"), Problem)


@pytest.mark.parametrize(
    ("text", "why"),
    [
        ("75", "75 mm is not between 2 mm and 30 mm."),
        ("wide", '"wide" is not a number.'),
        ("5 g", '"5 g" is a weight.'),
    ],
)
def test_what_cannot_be_is_told_in_a_sentence(text: str, why: str) -> None:
    found = read(text, of("peg_hole"), "here")
    assert isinstance(found, Problem)
    assert why in str(found), str(found)


def test_a_reading_takes_the_place_of_the_one_before_and_an_empty_one_goes() -> None:
    found = with_reading((), replace(HOLE, found="7.5"))
    assert with_reading(found, replace(HOLE, place="2nd string, far wall")) == found
    again = with_reading(found, replace(HOLE, found="7.5", after="8"))
    assert [(reading.found, reading.after) for reading in again] == [("7.5", "8")]
    assert with_reading(again, HOLE) == ()


def test_what_the_jobs_want_comes_first() -> None:
    assert BENCH is not None, PROBLEMS
    rows = measured(BENCH.of("violin"), (), {"pegs_new_set"})
    assert [(row.measure.measure, row.wanted) for row in rows][:2] == [("peg_hole", True), ("groove_depth", False)]
