"""The laws of the score over the rubrics as they are: every check and every outcome, at instruments from junk to fine.

The usual run tries a part of the grid, drawn for each family and instrument by a fixed seed; `-m long` tries all of it.
An answer is worse than another where its worth, its class and what stays lost are no better, and one of them worse;
one that shows the matter of another check counts there, and has no order among those of its own check.
"""

import random
from collections.abc import Callable, Mapping
from functools import cache
from itertools import pairwise
from typing import Any

import pytest

from evaluator.assessment.model import Case
from evaluator.assessment.observing.case import read_case
from evaluator.assessment.scoring.known import know
from evaluator.assessment.scoring.score import score_of
from evaluator.rubric.rubric import Rubric
from evaluator.rubric.written.checks import Check, Outcome
from evaluator.rubric.written.kinds import WORTH_BY_CLASS
from tests.known import shipped

FAMILIES = ("violin", "viola", "cello", "bow")
INSTRUMENTS = ("fine", "plain", "junk", "old", "few", "nothing")
TIER, STYLE = "intermediate", "classical"
NEAR = 1e-7
PART = 5  # checks of each family and instrument in the usual run, about 25 answers each
CLASSES = ("disqualifying", "fault", "acceptable", "sound")
Answers = Mapping[str, Any]


def case_of(family: str, answers: Answers, **instrument: str) -> Case:
    data = {
        "format": 1,
        "rubric": family,
        "looker": "luthier",
        "instrument": {"tier": TIER, **instrument},
        "observations": dict(answers),
    }
    case, problems = read_case(shipped(family), data)
    assert case is not None, problems
    return case


def score(family: str, answers: Answers, **instrument: str) -> tuple[float, ...]:
    """The score, then each domain's."""
    found = score_of(know(shipped(family), case_of(family, answers, **instrument)).setting)
    return (found.expected, *found.domains)


def merit(outcome: Outcome) -> tuple[float, int, float]:
    """Worth, class, and what does not stay lost: each the better the larger."""
    loss = outcome.lasting_loss.likely if outcome.lasting_loss else 0.0
    return outcome.worth_at(TIER, STYLE), CLASSES.index(outcome.class_at(TIER, STYLE)), -loss


def is_worse(one: Outcome, other: Outcome) -> bool:
    mine, its = merit(one), merit(other)
    if one.counts_as or other.counts_as:
        return False
    return mine != its and all(a <= b for a, b in zip(mine, its, strict=True))


def asked(family: str) -> list[Check]:
    return [check for check in shipped(family).checks.values() if check.outcomes and check.kind != "derived"]


def _general(outcome: Outcome) -> tuple[int, float]:
    worth = WORTH_BY_CLASS[outcome.class_] if outcome.worth is None else outcome.worth
    return CLASSES.index(outcome.class_), worth


def _picked(family: str, pick: Callable[[list[str], Check], str]) -> dict[str, str]:
    found = {}
    for check in asked(family):
        found[check.check] = pick(sorted(check.outcomes, key=lambda name: _general(check.outcomes[name])), check)
    return found


def _first_of(class_: str) -> Callable[[list[str], Check], str]:
    """The worst outcome of a class, else the best of all."""
    return lambda names, check: next((name for name in names if check.outcomes[name].class_ == class_), names[-1])


@cache
def instrument(family: str, kind: str) -> tuple[Answers, Mapping[str, str]]:
    """Answers and facts of one of the instruments."""
    fine = _picked(family, lambda names, _: names[-1])
    if kind == "few":
        return {name: fine[name] for name in random.Random(3).sample(sorted(fine), 12)}, {}
    made: dict[str, tuple[Answers, Mapping[str, str]]] = {
        "fine": (fine, {}),
        "plain": (_picked(family, _first_of("acceptable")), {}),
        "junk": (_picked(family, _first_of("fault")), {}),
        "old": (_picked(family, _first_of("acceptable")), {"age": "over_100"}),
        "nothing": ({}, {}),
    }
    return made[kind]


@pytest.fixture
def part(request: pytest.FixtureRequest, family: str, kind: str) -> list[Check]:
    checks = asked(family)
    if request.config.getoption("markexpr") == "long":
        return checks
    return random.Random(f"{family} {kind}").sample(checks, min(PART, len(checks)))


@pytest.mark.long
@pytest.mark.parametrize("kind", INSTRUMENTS)
@pytest.mark.parametrize("family", FAMILIES)
def test_a_worse_answer_never_raises_and_a_sound_one_never_lowers(family: str, kind: str, part: list[Check]) -> None:
    base, facts = instrument(family, kind)
    for check in part:
        rest = {name: answer for name, answer in base.items() if name != check.check}
        unseen = score(family, rest, **facts)[0]
        found = {name: score(family, rest | {check.check: name}, **facts) for name in check.outcomes}
        for name, outcome in check.outcomes.items():
            if outcome.class_at(TIER, STYLE) == "sound":
                assert found[name][0] >= unseen - NEAR, (check.check, name)
            for other, better in check.outcomes.items():
                if is_worse(outcome, better):
                    pairs = zip(found[name], found[other], strict=True)
                    assert all(low <= high + NEAR for low, high in pairs), (check.check, name, other)


@pytest.mark.parametrize("family", FAMILIES)
def test_the_order_of_answers_does_not_matter(family: str) -> None:
    answers = list(instrument(family, "plain")[0].items())
    turned = random.Random(7).sample(answers, len(answers))
    assert score(family, dict(answers)) == pytest.approx(score(family, dict(turned)), abs=NEAR)


@pytest.mark.parametrize("family", FAMILIES)
def test_neither_tier_nor_purpose_moves_the_making(family: str) -> None:
    answers = instrument(family, "old")[0]
    made = [know(shipped(family), case_of(family, answers, tier=tier)).hand.shares
            for tier in ("student", "intermediate", "professional")]  # fmt: skip
    assert made[0] == pytest.approx(made[1], abs=1e-12)
    assert made[0] == pytest.approx(made[2], abs=1e-12)


@pytest.mark.parametrize("family", FAMILIES)
def test_more_checks_neither_dilute_a_fault_nor_sink_what_nobody_saw(family: str) -> None:
    """Every check that is not answered stands three times over."""
    judged, fault = shipped(family), "bow_head_crack" if family == "bow" else "soundpost_crack_top"
    broken = "broken_off" if family == "bow" else "open_long"
    more = {
        f"{check.check}_{i}": check.model_copy(update={"check": f"{check.check}_{i}"})
        for check in asked(family)
        for i in (1, 2)
        if check.check != fault and check.check not in judged.relevant
    }
    fields = {name: getattr(judged, name) for name in Rubric.__dataclass_fields__}
    larger = Rubric(**(fields | {"checks": {**judged.checks, **more}}))

    def scored(of: Rubric, answers: Answers) -> float:
        return score_of(know(of, case_of(family, answers)).setting).expected

    assert scored(larger, {}) == pytest.approx(scored(judged, {}), abs=0.5)
    sound = next(name for name, one in judged.checks[fault].outcomes.items() if one.class_ == "sound")
    kept = [scored(of, {fault: broken}) / scored(of, {fault: sound}) for of in (judged, larger)]
    assert kept[0] == pytest.approx(kept[1], rel=0.02)
    assert kept[0] < 0.8


BITES = (
    ("soundpost_crack_back: open", "neck_break_repair: open", "arching_distortion: collapsed"),
    ("soundpost_standing: fallen", "neck_heel_joint: moves", "top_crack: open_long"),
    ("purfling: painted", "bridge_fitted_feet: flat_from_packet", "fingerboard_material: dyed_pale"),
    ("string_age: dull", "fine_tuner_mass: loose_or_stiff", "edge_corner_wear: chips", "case_condition: broken"),
)
BOW_BITES = (
    ("bow_head_crack: broken_off", "bow_stick_crack: crack"),
    ("bow_camber: reversed", "bow_stick_crack: mended"),
    ("bow_straightness: kinked", "bow_frog_fit: rocks"),
    ("bow_tip_plate: worn", "bow_leather: worn"),
)


@pytest.mark.parametrize("family", FAMILIES)
def test_what_ends_an_instrument_bites_most_and_what_a_shop_mends_in_passing_least(family: str) -> None:
    """From a good instrument one answer is changed: every one of a group takes more than any of the next."""
    base = dict(instrument(family, "fine")[0])
    whole = score(family, base)[0]
    groups = [
        [whole - score(family, base | dict([one.split(": ")]))[0] for one in group]
        for group in (BOW_BITES if family == "bow" else BITES)
    ]
    for heavy, light in pairwise(groups):
        assert min(heavy) > max(light) + 0.5
    assert min(groups[-1]) >= 0
    assert min(groups[0]) > 20


@pytest.mark.parametrize("family", FAMILIES)
def test_deductions_add_up_on_real_instruments(family: str) -> None:
    for kind in INSTRUMENTS:
        answers, facts = instrument(family, kind)
        found = score_of(know(shipped(family), case_of(family, answers, **facts)).setting)
        assert found.points.sum() == pytest.approx(100 - found.expected, abs=1e-9)
        assert found.points.min() >= 0
