"""One fault counts once: a patched crack over the post with its four signs, and a crooked neck with its two."""

import pytest

from evaluator.assessment.observing.case import read_case
from evaluator.result.evaluation import Evaluation, evaluate
from evaluator.rubric.files.load import load_rubric
from evaluator.rubric.files.shop_file import load_shop
from evaluator.store.folders import rubrics_folder

RUBRIC, _ = load_rubric(rubrics_folder(), "violin")
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


def test_a_patched_crack_and_its_signs_take_what_the_crack_takes() -> None:
    crack, both = worth(**PATCHED), worth(**PATCHED, **SIGNS)
    assert crack < 0.8 * worth()
    assert both == pytest.approx(crack, rel=0.03)  # a value is rounded to 50


def test_a_crooked_neck_costs_what_one_check_says() -> None:
    alone, shown = of(**CROOKED), of(**CROOKED, **SHOWN)
    assert "neck_reset" in {line.job for line in alone.estimate.lines}
    assert cost(shown) == pytest.approx(cost(alone))
    assert of().assessment.score.expected > alone.assessment.score.expected + 5
    assert shown.assessment.score.expected == pytest.approx(alone.assessment.score.expected, abs=0.5)


def cost(found: Evaluation) -> float:
    return sum(line.cost.mean for line in found.estimate.lines)
