"""One fault counts once: a patched crack over the post with its four signs, and a crooked neck with its two."""

import pytest

from evaluator.assessment.observing.case import read_case
from evaluator.result.evaluation import Evaluation, evaluate
from evaluator.rubric.files.shop_file import load_shop
from evaluator.store.folders import rubrics_folder
from evaluator.valuation.worth.answers import answers_of
from evaluator.valuation.worth.guide import lasting_faults
from tests.known import shipped

RUBRIC = shipped("violin")
SHOP, _ = load_shop(rubrics_folder() / "shop.yaml")
GOOD = {
    "purfling": "inlaid",
    "scroll_carving": "fine",
    "varnish_type": "oil_or_spirit",
    "fingerboard_material": "ebony",
    "soundpost_standing": "standing",
    "interior_finish": "plain",
    "purfling_corners": "tidy",
    "fhole_workmanship": "fair",
    "varnish_application": "by_hand",
    "outline_symmetry": "flowing",
}
PATCHED = {"soundpost_crack_back": "patched"}
SIGNS = {
    "cleats_and_patches": "patch",
    "varnish_uv": "lines",
    "earlier_repair_quality": "good",
    "varnish_overcoat": "thin_polish",
}
CROOKED = {"neck_alignment": "crooked"}
SHOWN = {"string_alignment": "neck_off", "bridge_position": "hides_crooked_neck"}


def of(**answers: str) -> Evaluation:
    assert RUBRIC is not None and SHOP is not None
    content = {
        "format": 1,
        "rubric": "violin",
        "looker": "luthier",
        "instrument": {"size": "4/4", "style": "classical", "tier": "intermediate", "year": 1950},
        "observations": GOOD | answers,
    }
    case, problems = read_case(RUBRIC, content)
    assert case is not None, problems
    return evaluate(RUBRIC, case, SHOP, draws=200)


def worth(**answers: str) -> float:
    value = of(**answers).weighed.ready.value
    assert value is not None
    return float(value.amount)


def left(**answers: str) -> dict[str, float]:
    """The share of the value that is left in each class of making."""
    assert RUBRIC is not None and SHOP is not None
    found = of(**answers)
    given = answers_of(RUBRIC, found.case, found.assessment)
    return dict(lasting_faults(SHOP.guide, RUBRIC, given, tuple(RUBRIC.classes)).left)


def test_a_patched_crack_and_its_signs_take_what_the_crack_takes() -> None:
    crack, both = worth(**PATCHED), worth(**PATCHED, **SIGNS)
    assert crack < 0.8 * worth()
    assert both == crack
    assert left(**PATCHED, **SIGNS) == pytest.approx(left(**PATCHED))


@pytest.mark.parametrize("sign", SIGNS)
def test_each_sign_beside_the_crack_takes_nothing_more(sign: str) -> None:
    assert worth(**PATCHED, **{sign: SIGNS[sign]}) == worth(**PATCHED)


def test_a_crooked_neck_costs_what_one_check_says() -> None:
    alone, shown = of(**CROOKED), of(**CROOKED, **SHOWN)
    assert "neck_reset" in {line.job for line in alone.estimate.lines}
    assert cost(shown) == pytest.approx(cost(alone))
    assert of().assessment.score.expected > alone.assessment.score.expected + 5
    assert shown.assessment.score.expected == pytest.approx(alone.assessment.score.expected, abs=0.5)
    assert left(**CROOKED, **SHOWN) == pytest.approx(left(**CROOKED))
    assert worth(**CROOKED, **SHOWN) == worth(**CROOKED)


def cost(found: Evaluation) -> float:
    return sum(line.cost.mean for line in found.estimate.lines)
