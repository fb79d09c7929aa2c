"""Reference instruments on one scale: what does not come out is told with what was found, and a file is checked."""

from dataclasses import replace
from pathlib import Path

import pytest

from evaluator.result.examples import Tried, tried
from evaluator.result.scale import standings
from evaluator.rubric.files.calibration import Calibration, load_calibration
from evaluator.rubric.files.shop_file import load_shop
from evaluator.rubric.rubric import Rubric
from evaluator.rubric.shop import Shop
from evaluator.store.folders import rubrics_folder
from tests.known import shipped

FILE = """
answer_sets:
  body: {purfling: inlaid, top_crack: none, back_crack: none, varnish_type: oil_or_spirit, scroll_carving: fine,
    bridge_fitted_feet: no_light, soundpost_standing: standing, peg_function: smooth, neck_heel_joint: tight}
examples:
  - example: better
    say: The better one.
    family: violin
    instrument: {size: 4/4, tier: student}
    asking: 900
    sets: [body]
    expect: {better_than.worse: %s, advice: [look_first, buy], score.at_least: 40}
  - example: worse
    say: The same with an open crack.
    family: violin
    instrument: {size: 4/4, tier: student}
    sets: [body]
    observations: {top_crack: open_long}
    expect: {finding.top_crack: open_long}
"""


def read(tmp_path: Path, text: str) -> tuple[Calibration | None, list[str]]:
    path = tmp_path / "calibration.yaml"
    path.write_text(text, encoding="utf-8")
    found, problems = load_calibration(path)
    return found, [str(one) for one in problems]


@pytest.fixture(scope="module")
def violin() -> Rubric:
    return shipped("violin")


@pytest.fixture(scope="module")
def shop() -> Shop:
    found, problems = load_shop(rubrics_folder() / "shop.yaml")
    assert found is not None, problems
    return found


def judged(tmp_path: Path, violin: Rubric, shop: Shop, text: str) -> tuple[Tried, ...]:
    found, problems = read(tmp_path, text)
    assert found is not None, problems
    return tried({"violin": violin}, shop, found)


def test_the_worst_stands_first_and_nothing_differs(tmp_path: Path, violin: Rubric, shop: Shop) -> None:
    found = standings(judged(tmp_path, violin, shop, FILE % 5))
    assert [one.name for one in found] == ["worse", "better"]
    assert found[0].now[0] < found[1].now[0]
    assert [one.differs for one in found] == [(), ()]
    assert found[0].band == violin.bands["weak"].say  # an open long crack is not to be played


def test_too_small_a_lead_is_told_with_the_lead(tmp_path: Path, violin: Rubric, shop: Shop) -> None:
    (better, _) = judged(tmp_path, violin, shop, FILE % 90)
    assert len(better.problems) == 1
    assert better.problems[0].what.startswith("it should stand 90 points above worse, and stands ")


def test_another_instrument_that_is_not_there_is_told(tmp_path: Path, violin: Rubric, shop: Shop) -> None:
    (better, _) = judged(tmp_path, violin, shop, (FILE % 5).replace("better_than.worse", "better_than.nobody"))
    assert [one.what for one in better.problems] == ['there is no instrument "nobody" to stand above.']


def test_a_rubric_of_other_weights_is_told_where_it_breaks(tmp_path: Path, violin: Rubric, shop: Shop) -> None:
    check = violin.checks["top_crack"]
    light = check.model_copy(update={"weight": 0.0})
    fields = {name: getattr(violin, name) for name in Rubric.__dataclass_fields__}
    other = Rubric(**(fields | {"checks": {**violin.checks, "top_crack": light}}))
    (better, _) = judged(tmp_path, other, shop, FILE % 5)
    assert [one.code for one in better.problems] == ["example.order"]


@pytest.mark.parametrize(
    ("old", "new", "told"),
    [
        ("sets: [body]", "sets: [bodice]", 'there is no set of answers "bodice"'),
        ("example: worse", "example: better", "this example is written twice"),
        ("family: violin", "family: guitar", '"guitar" is not one of the choices'),
        ("    say: The better one.\n", "", 'the key "say" is missing'),
        ("score.at_least: 40", "score.at_least: 40, score.at_most: 30", "score is at least 40 and at most 30"),
        ("score.at_least: 40", "score.at_most: 3", "by their own bounds it can stand 3 above it at most"),
        ("{finding.top_crack: open_long}", "{better_than.better: 1}", "which should stand above it"),
    ],
)
def test_a_file_that_is_wrong_is_told_at_its_place(tmp_path: Path, old: str, new: str, told: str) -> None:
    found, problems = read(tmp_path, (FILE % 5).replace(old, new, 1))
    assert found is None
    assert any(told in one and "calibration.yaml" in one for one in problems)


def test_an_answer_that_the_rubric_does_not_have_is_told(tmp_path: Path, violin: Rubric, shop: Shop) -> None:
    (better, worse) = judged(tmp_path, violin, shop, (FILE % 5).replace("open_long", "open_lang", 1))
    assert worse.found is None
    assert "open_lang" in worse.problems[0].what
    assert standings((better, replace(worse))) == standings((better,))
