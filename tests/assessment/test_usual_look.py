"""The usual look of sixty checks tells nine tenths of what all would tell, over instruments drawn from the rubric.

Each is a world of an instrument that nobody has looked at: its class, its causes and every outcome are drawn together.
The score of its answers to all checks is compared with that of its answers to the usual ones.
"""

import numpy as np
import pytest

from evaluator.assessment.looking.information import Looks
from evaluator.assessment.looking.next_checks import visit
from evaluator.assessment.model import Case
from evaluator.assessment.observing.case import read_case
from evaluator.assessment.observing.relevance import LOOKER_RANK
from evaluator.assessment.scoring.draws import assess
from evaluator.assessment.scoring.known import know
from evaluator.assessment.scoring.score import score_of
from evaluator.rubric.written.kinds import Looker
from tests.known import shipped

SEEDS, INSTRUMENTS = (20_260, 7, 11), 14  # a lucky draw would tell too much, an unlucky one too little
SEED = SEEDS[0]
MOST = {"violin": 150, "viola": 150, "cello": 150, "bow": 45}
LEAST_TOLD = ("lower_bout", "board_end_width", "afterlength_ratio", "nut_spacing", "rib_height", "label_claim")
LEAST_OF_A_BOW = ("bow_camber_gap", "bow_balance", "bow_hair_width", "bow_nose")
Answers = dict[str, str]


def case_of(name: str, answers: Answers) -> Case:
    content = {"format": 1, "rubric": name, "looker": "luthier", "instrument": {"tier": "intermediate"}}
    case, problems = read_case(shipped(name), content | {"observations": answers})
    assert case is not None, problems
    return case


def score(name: str, answers: Answers) -> float:
    return score_of(know(shipped(name), case_of(name, answers)).setting).expected


def looks_of(name: str, answers: Answers, minutes: float | None, looker: Looker, tools: frozenset[str]) -> list[str]:
    case = case_of(name, answers)
    looks = Looks(shipped(name), case, assess(shipped(name), case, SEED, 200))
    return [one.check for one in visit(looks, minutes, looker, at_hand=tools)]


def drawn(name: str, seed: int) -> list[Answers]:
    worlds = assess(shipped(name), case_of(name, {}), seed, 100).worlds
    asked = [(i, shipped(name).checks[check]) for i, check in enumerate(worlds.checks)]
    return [
        {one.check: list(one.outcomes)[row[i]] for i, one in asked if one.outcomes and one.kind != "derived"}
        for row in worlds.outcome[:INSTRUMENTS]
    ]


@pytest.mark.parametrize("name", MOST)
def test_no_more_is_asked_than_somebody_will_answer(name: str) -> None:
    assert len(shipped(name).checks) <= MOST[name]


def test_the_usual_look_is_sixty_and_holds_what_must_be_safe() -> None:
    usual = {check.check for check in shipped("violin").checks.values() if check.usual}
    assert len(usual) == 60
    assert set(shipped("violin").safety_checks) <= usual
    assert not usual & set(LEAST_TOLD)


@pytest.mark.parametrize("name", MOST)
def test_the_usual_look_tells_nine_tenths_of_what_all_would_tell(name: str) -> None:
    usual = {check.check for check in shipped(name).checks.values() if check.usual}
    instruments = [one for seed in SEEDS for one in drawn(name, seed)]
    whole = np.array([score(name, answers) for answers in instruments])
    part = np.array([score(name, {k: v for k, v in answers.items() if k in usual}) for answers in instruments])
    assert whole.std() > 5
    told = 1 - np.var(whole - part) / np.var(whole)
    print(name, len(usual), round(float(told), 3))
    assert told >= 0.9


@pytest.mark.parametrize("name", MOST)
@pytest.mark.parametrize("looker", ["student", "luthier"])
def test_without_a_limit_the_list_is_the_usual_look(name: str, looker: Looker) -> None:
    able = LOOKER_RANK[looker]
    usual = {one.check for one in shipped(name).checks.values() if one.usual and LOOKER_RANK[one.who] <= able}
    listed = looks_of(name, {}, None, looker, frozenset())
    assert set(listed) == usual
    assert tuple(listed[: len(shipped(name).safety_checks)]) == shipped(name).safety_checks
    assert not set(listed) & {*LEAST_TOLD, *LEAST_OF_A_BOW}


@pytest.mark.parametrize("name", MOST)
def test_half_an_hour_is_spent_on_the_usual_look(name: str) -> None:
    checks = shipped(name).checks
    listed = looks_of(name, {}, 30.0, "student", frozenset())
    assert 25.0 < sum(checks[one].minutes for one in listed) <= 30.0 or name == "bow"
    others = [one for one in listed if not checks[one].usual]
    assert others == [] or name == "bow"
    assert not set(listed) & set(LEAST_TOLD)


def test_what_somebody_brought_a_tool_for_is_asked_too() -> None:
    listed = looks_of("violin", {}, 30.0, "student", frozenset({"kitchen_scale"}))
    assert [one for one in listed if not shipped("violin").checks[one].usual] == ["weight_without_chin_rest"]


def test_the_rest_comes_once_the_usual_is_done() -> None:
    rubric = shipped("violin")
    answers = {one.check: next(iter(one.outcomes)) for one in rubric.checks.values() if one.usual}
    assert looks_of("violin", answers, None, "student", frozenset()) == []
    listed = looks_of("violin", answers, 20.0, "student", frozenset())
    assert len(listed) > 5
    assert not [one for one in listed if rubric.checks[one].usual]
