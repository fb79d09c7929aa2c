"""Time of an assessment and of the next looks, as a ratio to a plain Python loop in the same run."""

import random
import time
from collections.abc import Callable
from typing import Any

import pytest

from evaluator.assessment.looking.next_checks import Looks, next_checks
from evaluator.assessment.scoring.draws import assess
from evaluator.rubric.rubric import Rubric
from tests.assessment.small import FAULT, SHARES, SOUND, case_of, check_of, rubric_of

DRAWS = 4000


def once(action: Callable[[], object]) -> float:
    """Seconds of processor time of one run: what else the machine does then counts little."""
    start = time.process_time()
    action()
    return time.process_time() - start


def best(action: Callable[[], object], runs: int = 5) -> float:
    """The shortest of several runs: the one that other work on the machine disturbed least."""
    return min(once(action) for _ in range(runs))


def loops(action: Callable[[], object], rounds: int = 10) -> float:
    """Time in plain loops; both are run by turns, so that a busy spell hits both, and the best of each counts."""
    pairs = [(once(action), once(lambda: sum(i * i for i in range(10**6)))) for _ in range(rounds)]
    return min(one for one, _ in pairs) / min(loop for _, loop in pairs)


def large_rubric(count: int) -> Rubric:
    """A rubric like a violin's: a quarter measured, three quarters with a cause."""
    causes = [
        {"cause": f"cause_{i}", "say": "It was so", "if_not": "It was not so", "about": "condition", "prior": 0.3}
        for i in range(12)
    ]
    choices = {
        "good": SOUND,
        "fair": {"say": "Fair", "class": "acceptable"},
        "poor": FAULT | {"inherent": False, "cured_by": ("mend",)},
        "stop": {"say": "Stop", "class": "disqualifying", "inherent": True},
    }
    length = {
        "measure": {"quantity": "length", "unit": "mm", "tools": ("steel_rule",)},
        "standard": {"low": 95.0, "high": 105.0},
        "worth_at": {90.0: 0.1, 95.0: 0.8, 100.0: 1.0, 105.0: 0.8, 110.0: 0.1},
    }
    checks = []
    for i in range(count):
        keys: dict[str, Any] = {"evidence_of": {list(SHARES)[i % 6]: 2.0, "resale": 1.0}}
        keys |= {"cause": f"cause_{i % 12}"} if i % 4 else {}
        keys |= length if i % 4 == 1 else {"outcomes": choices}
        checks.append(check_of(f"check_{i}", **keys))
    return rubric_of(*checks, causes=tuple(causes), jobs=({"job": "mend"},))


def answered(rubric: Rubric, share: float) -> dict[str, Any]:
    pick = random.Random(1)
    words = ("good", "good", "fair", "poor")
    return {
        name: "98 mm" if check.measure else pick.choice(words)
        for name, check in rubric.checks.items()
        if pick.random() < share
    }


def test_a_violin_takes_less_than_the_loop() -> None:
    """The whole of `evaluate` may take 1.5 loops; the assessment is the larger part of it."""
    rubric = large_rubric(130)
    case = case_of(rubric, answered(rubric, 1.0))
    assert loops(lambda: assess(rubric, case, draws=DRAWS)) < 1.2


def test_the_next_looks_take_less_than_the_loop() -> None:
    rubric = large_rubric(130)
    case = case_of(rubric, answered(rubric, 0.1))
    found = assess(rubric, case, draws=DRAWS)
    net = 20.0 + 3.0 * (found.worlds.score_after - found.worlds.score_after.mean())
    assert loops(lambda: next_checks(Looks(rubric, case, found, net), "luthier", "in_person")) < 1.0


@pytest.mark.parametrize("share", [0.0, 0.5])
def test_time_grows_with_the_number_of_checks(share: float) -> None:
    """Twenty times the checks in at most sixty times the time, far below the 400 times of a growth with the square.

    The bound leaves room for a busy machine, on which the short run is timed unevenly.
    """
    times = []
    for count in (50, 1000):
        rubric = large_rubric(count)
        case = case_of(rubric, answered(rubric, share))
        found = assess(rubric, case, draws=DRAWS)
        assessing = best(lambda rubric=rubric, case=case: assess(rubric, case, draws=DRAWS), 5)
        ranking = best(
            lambda rubric=rubric, case=case, found=found: next_checks(
                Looks(rubric, case, found), "luthier", "in_person"
            ),
            5,
        )
        times.append((assessing, ranking))
    for small, large in zip(*times, strict=True):
        assert large < 60 * small
