"""Reference instruments, judged in writing before they were tried, and the laws of value on the real rubrics."""

from functools import cache

import pytest

from evaluator.assessment.model import Case, Observation
from evaluator.assessment.observing.case import read_case
from evaluator.result.evaluation import Evaluation, evaluate
from evaluator.result.examples import tried
from evaluator.rubric.files.calibration import FILE, ReferenceExample, load_calibration
from evaluator.rubric.files.shop_file import load_shop
from evaluator.rubric.shop import Shop
from evaluator.rubric.written.checks import Check
from evaluator.store.folders import rubrics_folder
from evaluator.valuation.worth.answers import general_worth
from tests.known import shipped
from tests.laws import sampled

CALIBRATION, _ = load_calibration(rubrics_folder() / FILE)
assert CALIBRATION is not None
CASES = {one.example: one for one in CALIBRATION.examples}
# For the laws: the family, and the instrument whose answers are changed one by one.
TRIED = ("school_cello_from_a_shop", "viola_for_a_player", "quarter_from_a_family", "bow_from_a_box")
EVERY = 9  # one check of so many, spread over all parts; other instruments begin elsewhere


@cache
def shop() -> Shop:
    found, problems = load_shop(rubrics_folder() / "shop.yaml")
    assert found is not None, problems
    return found


def case_of(one: ReferenceExample, **keys: str) -> Case:
    assert CALIBRATION is not None
    data = {
        "format": 1,
        "rubric": one.family,
        "purpose": "buying",
        "asking": {"amount": one.asking, "currency": "USD"},
        "seen_by": one.seen_by,
        "looker": one.looker,
        "instrument": dict(one.instrument) | keys,
        "observations": CALIBRATION.answers(one),
    }
    case, problems = read_case(shipped(data["rubric"]), data)
    assert case is not None, problems
    return case


def evaluated(case: Case, draws: int = 4000) -> Evaluation:
    return evaluate(shipped(case.rubric), case, shop(), draws=draws)


def test_every_instrument_comes_out_as_it_was_judged() -> None:
    assert CALIBRATION is not None
    found = tried({name: shipped(name) for name in ("violin", "viola", "cello", "bow")}, shop(), CALIBRATION)
    assert len(found) == len(CASES)
    assert [problem for one in found for problem in one.problems] == []


@pytest.mark.parametrize("name", ["school_cello_from_a_shop", "viola_for_a_player", "bow_from_a_box"])
def test_the_standard_held_to_moves_no_value(name: str) -> None:
    found = [evaluated(case_of(CASES[name], tier=tier), 200) for tier in ("student", "intermediate", "professional")]
    laws = [one.weighed.ready.mixture for one in found]
    assert laws[0] is not None
    assert [one.middle for one in laws if one] == pytest.approx([laws[0].middle] * 3)


def limits_of(case: Case) -> tuple[float, float, float, float, float]:
    """(value, ceiling, offer, work in the mean, work in dear cases) of a case, unrounded."""
    weighed = evaluated(case, 100).weighed
    assert weighed.ready.mixture is not None and weighed.limits is not None and weighed.sums is not None
    dear = max(weighed.sums.work, weighed.sums.work_dear)
    return weighed.ready.mixture.middle, weighed.limits.ceiling, weighed.limits.offer, weighed.sums.work, dear


def answered(case: Case, name: str, outcome: str | None) -> Case:
    seen = {key: one for key, one in case.observations.items() if key != name}
    if outcome is not None:
        seen[name] = (Observation(name, outcome),)
    return type(case)(**{key: getattr(case, key) for key in case.__dataclass_fields__} | {"observations": seen})


def left_of(check: Check, outcome: str) -> dict[str, float]:
    one = check.outcomes[outcome]
    row = shop().guide.lasting.get(one.matter or "")
    return row or dict.fromkeys(
        shop().guide.private_share, 1.0 - (one.lasting_loss.likely if one.lasting_loss else 0.0)
    )


def is_worse(check: Check, one: str, other: str) -> bool:
    """No better in worth and in what it leaves of the value of any class; what shows the matter of another check counts
    there, and has no order here."""
    if check.outcomes[one].counts_as or check.outcomes[other].counts_as:
        return False
    here, there = left_of(check, one), left_of(check, other)
    worth, than = general_worth(check.outcomes[one]), general_worth(check.outcomes[other])
    return worth < than and all(here[name] <= there[name] for name in here)


@pytest.mark.parametrize("place", sampled(range(len(TRIED)), 2))
def test_a_worse_answer_never_raises_and_a_sound_one_never_lowers(place: int) -> None:
    case = case_of(CASES[TRIED[place]])
    checks = [one for one in shipped(case.rubric).checks.values() if one.kind == "choice" and len(one.outcomes) > 1]
    for check in checks[2 * place :: EVERY]:
        unseen = limits_of(answered(case, check.check, None))
        found = {name: limits_of(answered(case, check.check, name)) for name in check.outcomes}
        for one, value in found.items():
            for other, than in found.items():
                if is_worse(check, one, other):
                    assert value[0] <= than[0] * (1 + 1e-9), (check.check, one, other)
                    if value[3] >= than[3] and value[4] >= than[4]:
                        assert value[1] <= than[1] + 1e-6 and value[2] <= than[2] + 1e-6, (check.check, one, other)
        best = max(found, key=lambda name: general_worth(check.outcomes[name]))
        if check.outcomes[best].class_ == "sound":
            assert all(a >= b - 1e-6 for a, b in zip(found[best][:3], unseen[:3], strict=True)), (check.check, best)
