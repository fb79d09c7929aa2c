"""What outcomes take of a domain: where nothing is taken, what a reading takes along its scale, and the bounds."""

from typing import Any

import numpy as np
import pytest

from evaluator.assessment.believing.terms import term_of
from evaluator.assessment.model import Instrument
from evaluator.assessment.scoring.bites import LEAST_LEFT, MOST, Bites
from evaluator.rubric.written.kinds import Domain
from tests.assessment.small import FAULT, SOUND, check_of, rubric_of

DOMAINS: tuple[Domain, ...] = ("workmanship", "soundness", "resale")
FULLY: dict[str, Any] = {"evidence_of": {"workmanship": 3.0, "soundness": 1.5}, "weight": 5.0}
LASTING = {"lasting_loss": {"low": 0.2, "likely": 0.4, "high": 0.5}}


def bites(*checks: dict[str, Any]) -> Bites:
    rubric = rubric_of(*checks)
    instrument = Instrument("4/4", "classical", "student")
    return Bites([term_of(rubric, one, instrument) for one in rubric.checks.values()], DOMAINS)


def shares(of: Bites, i: int = 0) -> list[list[float]]:
    """What each outcome of a check takes of each domain, as shares of it."""
    return (1.0 - np.exp(-of.taken(of.worth)))[i].tolist()


def test_the_weightiest_and_surest_takes_the_most_and_by_its_strength_elsewhere() -> None:
    """Worked by hand: half the strength, half the share; no strength, nothing."""
    worthless = FAULT | {"worth": 0.0}
    assert shares(bites(check_of("it", outcomes={"good": SOUND, "gone": worthless}, **FULLY))) == [
        [0.0, 0.0, 0.0],
        pytest.approx([MOST, MOST / 2, 0.0]),
    ]


def test_another_sound_answer_takes_nothing_even_where_it_is_worth_less() -> None:
    better = {"good": SOUND, "plain": SOUND | {"worth": 0.6}, "worn": {"say": "Worn", "class": "acceptable"}}
    good, plain, worn = shares(bites(check_of("it", outcomes=better, **FULLY)))
    assert good == plain == [0.0, 0.0, 0.0]
    assert worn[0] > worn[1] > 0


@pytest.mark.parametrize("weight", [0.5, 1.0, 5.0])
def test_what_is_written_holds_whatever_the_check_weighs_and_nothing_where_it_does_not_count(weight: float) -> None:
    """Worked by hand: half of workmanship, and by half the strength 1 - sqrt(1/2) of the soundness; two fifths of the
    resale, and all but a tenth of that of the soundness, are lost for good."""
    outcomes = {"good": SOUND, "open": FAULT | {"bite": 0.5}, "patched": FAULT | LASTING | {"worth": 1.0}}
    keys = FULLY | {"weight": weight, "outcomes": outcomes}
    _, opened, patched = shares(bites(check_of("it", **keys)))
    assert opened == pytest.approx([0.5, max(1 - 0.5**0.5, MOST * weight / 10 * 0.75**1.35), 0.0])
    assert patched == pytest.approx([0.0, 0.3, 0.4])
    assert not np.array(shares(bites(check_of("it", about="purchase", **keys)))).any()


def test_no_fault_takes_all() -> None:
    outcomes = {"good": SOUND, "ruin": FAULT | {"bite": 0.999}}
    assert shares(bites(check_of("it", outcomes=outcomes, **FULLY)))[1][0] == pytest.approx(1.0 - LEAST_LEFT)


def test_a_row_is_filled_up_where_another_check_has_more_outcomes() -> None:
    more = {"good": SOUND, "worn": FAULT, "poor": FAULT}
    found = bites(check_of("two", **FULLY), check_of("three", outcomes=more, **FULLY))
    assert found.table([(1.0, 2.0), (3.0, 4.0, 5.0)], 9.0).tolist() == [[1.0, 2.0, 9.0], [3.0, 4.0, 5.0]]
    assert shares(found, 0)[2] == [0.0, 0.0, 0.0]


def test_a_reading_takes_along_its_scale_what_an_outcome_of_the_same_worth_takes() -> None:
    """Also beyond both ends: a worth above 1 takes nothing, one below 0 no more than 0."""
    found = bites(check_of("it", outcomes={"good": SOUND, "poor": FAULT}, **FULLY))
    for worth in (1.2, 1.0, 0.7, 0.3, 0.0, -0.2):
        for d in range(2):
            as_outcome = found.taken(np.array([[1.0, worth]]))[0, 1, d]
            assert found.read(0, d, np.array([worth])) == pytest.approx([as_outcome])
    assert (
        found.read(0, 0, np.array([0.0])) > found.read(0, 0, np.array([0.5])) > found.read(0, 0, np.array([1.0])) == 0
    )


def test_only_domains_that_a_check_speaks_of_or_loses_resale_in_are_taken_from() -> None:
    lasting = check_of("patch", outcomes={"good": SOUND, "patched": FAULT | LASTING}, evidence_of={"workmanship": 1.0})
    nothing = check_of("fun", evidence_of={"workmanship": 1.0}, about="purchase")
    assert bites(check_of("it", **FULLY), lasting, nothing).domains_of == ((0, 1), (0, 1, 2), ())
