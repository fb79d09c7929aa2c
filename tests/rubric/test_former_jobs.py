"""Jobs under names of before: a workshop's overlay and price list that were written with them still work."""

from pathlib import Path

import pytest

from evaluator.estimate.price import PriceList
from evaluator.rubric.files.load import load_rubric
from evaluator.rubric.files.renamed import todays_names, with_todays_names
from evaluator.rubric.sense.check import check_path
from evaluator.store.folders import rubrics_folder
from tests.papers.cases import rubric, shop

OLD = """
extends: violin
by: A workshop of old
change:
  tailgut_adjust: {hours: {low: 0.3, likely: 0.4, high: 0.6}}
  bridge_fiddle_recut: {urgency: recommended}
  end_button:
    outcomes:
      cracked: {cured_by: [block_replace, crack_rib + endpin_hole_bush]}
"""
FORMER = ("bridge_fiddle_recut", "tailgut_adjust", "seasonal_adjustment", "touch_up_small", "block_replace")


@pytest.mark.parametrize("name", FORMER)
def test_each_name_of_before_leads_to_a_job_of_today(name: str) -> None:
    names = todays_names(rubric("violin").jobs.values())
    assert names[name] in rubric("violin").jobs
    assert name not in rubric("violin").jobs


def test_an_overlay_written_with_them_works(tmp_path: Path) -> None:
    path = tmp_path / "old.yaml"
    path.write_text(OLD, encoding="utf-8")
    assert check_path(path, rubrics_folder()).text() == ""
    found, problems = load_rubric(rubrics_folder(), "violin", [path])
    assert problems == ()
    assert found is not None
    assert found.jobs["tailgut_replace"].hours.likely == 0.4
    assert found.jobs["bridge_recut"].urgency == "recommended"
    cracked = found.checks["end_button"].outcomes["cracked"]
    assert cracked.cured_by == ("block_lower_new", "crack_rib + endpin_hole_bush")


def test_a_price_under_an_old_name_is_the_price() -> None:
    own = shop().rates["set_up"]
    priced = shop().model_copy(update={"job_prices": {"tailgut_adjust": own}})
    price = PriceList(rubric("violin"), priced).job("tailgut_replace")
    assert price is not None
    assert price.whole.likely == own.likely


def test_only_whole_names_are_changed() -> None:
    names = {"old": "new"}
    data = {"old": ["old", "older", "a + old", {"say": "The old one", "x": 1}]}
    assert with_todays_names(data, names) == {"new": ["new", "older", "a + new", {"say": "The old one", "x": 1}]}
