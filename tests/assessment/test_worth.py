"""No limit is a cliff: a hair outside it a reading is worth nearly what it is a hair inside."""

import pytest

from evaluator.assessment.believing.terms import Term, term_of
from evaluator.assessment.believing.worth import BEYOND, slope, worth_at
from evaluator.assessment.model import Instrument
from evaluator.rubric.files.load import family_names
from evaluator.rubric.rubric import Limits
from evaluator.store.folders import rubrics_folder
from tests.known import shipped

HAIR = 0.02  # of the band


def limits(low: float | None, high: float | None) -> Limits:
    return Limits(low, high, None, "mm", "high", ())


@pytest.mark.parametrize(
    ("low", "high", "reading", "worth"),
    [
        (4.0, 6.0, 5.0, 1.0),
        (4.0, 6.0, 6.0, 1.0),
        (4.0, 6.0, 6.5, 0.7),  # half way down: half of a band and a half
        (4.0, 6.0, 7.0, 0.4),
        (4.0, 6.0, 9.0, 0.4),
        (4.0, 6.0, 3.5, 0.65),
        (4.0, 6.0, 3.0, 0.3),
        (None, 100.0, 40.0, 1.0),
        (None, 100.0, 115.0, 0.4),
        (100.0, None, 85.0, 0.3),
        (100.0, None, 400.0, 1.0),
    ],
)
def test_worth_falls_along_a_slope(low: float | None, high: float | None, reading: float, worth: float) -> None:
    points = slope(limits(low, high), below=0.3, within=1.0, above=0.4)
    assert worth_at(points, reading) == pytest.approx(worth)


def test_a_limit_of_zero_has_no_slope() -> None:
    assert slope(limits(None, 0.0), 0.3, 1.0, 0.4) == ()


def terms(name: str) -> list[tuple[str, Term]]:
    rubric = shipped(name)
    cases = [Instrument(size, style, "student") for size in rubric.sizes for style in ("classical", "fiddle")]
    measured = [check for check in rubric.checks.values() if check.standard]
    return [
        (f"{check.check} {case.size} {case.style}", term_of(rubric, check, case))
        for case in cases
        for check in measured
    ]


@pytest.mark.parametrize("name", family_names(rubrics_folder()))
def test_no_limit_of_ours_is_a_cliff(name: str) -> None:
    for where, term in terms(name):
        assert term.limits is not None, where
        low, high = term.limits.low, term.limits.high
        band = high - low if low is not None and high is not None else abs(low if low is not None else high or 0.0)
        for limit in (low, high):
            if limit is not None and term.points:
                inside, outside = (worth_at(term.points, limit + side * HAIR * band) for side in (-1, 1))
                assert abs(inside - outside) < 0.1, (where, limit)
        assert term.points, where
    assert BEYOND > 0
