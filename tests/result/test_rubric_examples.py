"""The examples inside our rubrics hold, and one that does not is told."""

import pytest

from evaluator.result.examples import example_problems, problems_with
from evaluator.rubric.files.shop_file import load_shop
from evaluator.rubric.rubric import Rubric
from evaluator.rubric.shop import Shop
from evaluator.rubric.written.surroundings import RubricExample
from evaluator.store.folders import rubrics_folder
from tests.known import shipped

Expected = dict[str, str | float | bool]


@pytest.fixture(scope="module")
def violin() -> Rubric:
    return shipped("violin")


@pytest.fixture(scope="module")
def shop() -> Shop:
    found, problems = load_shop(rubrics_folder() / "shop.yaml")
    assert found is not None, problems
    return found


def trial(observation: dict[str, str], expect: Expected) -> RubricExample:
    instrument: dict[str, str | int] = {"size": "4/4", "tier": "student"}
    return RubricExample(
        example="trial", say="Trial.", instrument=instrument, observations=dict(observation), expect=expect
    )


def test_our_examples_hold(violin: Rubric, shop: Shop) -> None:
    assert violin.examples
    assert example_problems(violin, shop) == ()


@pytest.mark.parametrize(
    ("expect", "told"),
    [
        ({"finding.purfling": "inlaid"}, "finding.purfling should be inlaid and is painted."),
        ({"job.bridge_new": True}, "job.bridge_new should be True and is False."),
        ({"score.at_most": 5}, "score.at_most should be 5.0 and is "),
        ({"colour": "red"}, '"colour" is not something to expect.'),
        ({"advice": "buy"}, "advice should be buy and is none."),
    ],
)
def test_an_expectation_that_is_not_met_is_told(violin: Rubric, shop: Shop, expect: Expected, told: str) -> None:
    problems = list(problems_with(violin, shop, trial({"purfling": "painted"}, expect)))
    assert len(problems) == 1
    assert problems[0].what.startswith(told)


def test_an_answer_that_cannot_be_read_is_told(violin: Rubric, shop: Shop) -> None:
    problems = list(problems_with(violin, shop, trial({"string_length": "12 kg"}, {"advice": "buy"})))
    assert "12 kg" in problems[0].what
