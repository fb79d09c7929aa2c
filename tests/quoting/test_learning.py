"""Hours learnt from own records: between catalogue and record, nearer to the record the more there is of it."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from evaluator.estimate.estimate import estimate
from evaluator.estimate.pert import cost
from evaluator.quoting.draft import draft_of, quote_of
from evaluator.quoting.learning import PRIOR_JOBS, at_own_hours, learnt, per_unit, with_own_hours
from evaluator.rubric.written.kinds import ThreePoint
from evaluator.rubric.written.work import Job
from tests.estimate.small import assessment_of, case_of, finding_of, job_of, rubric_of, shop_of
from tests.quoting.test_quote import ON

CATALOGUE = ThreePoint(low=0.8, likely=1.3, high=2.2)
HOURS = st.lists(st.floats(0.1, 20), min_size=1, max_size=40)


def mean_of(points: ThreePoint) -> float:
    return cost(points.low, points.likely, points.high).mean


def test_without_a_record_the_catalogue_stands() -> None:
    found = learnt(CATALOGUE, [])
    assert (found.blend, found.weight, found.own_mean) == (CATALOGUE, 0.0, None)


def test_conjugate_mean_by_hand() -> None:
    """Five prior jobs of 1.3667 h and five of 2 h: halfway between."""
    found = learnt(CATALOGUE, [1.8, 2.0, 2.2, 1.9, 2.1])
    assert found.weight == 0.5
    assert found.own_mean == pytest.approx(2.0)
    assert mean_of(found.blend) == pytest.approx((mean_of(CATALOGUE) + 2.0) / 2)


@given(HOURS)
def test_the_blend_lies_between_catalogue_and_record(hours: list[float]) -> None:
    found = learnt(CATALOGUE, hours)
    assert found.own_mean is not None
    wanted = (1 - found.weight) * mean_of(CATALOGUE) + found.weight * found.own_mean
    assert found.weight == len(hours) / (PRIOR_JOBS + len(hours))
    assert mean_of(found.blend) >= wanted - 1e-9  # the floor on short hours can only raise it
    assert 0 < found.blend.low <= found.blend.likely <= found.blend.high


def test_records_as_the_catalogue_says_narrow_nothing_away() -> None:
    found = learnt(CATALOGUE, [mean_of(CATALOGUE)] * 20)
    assert mean_of(found.blend) == pytest.approx(mean_of(CATALOGUE))
    assert found.blend.high - found.blend.low < CATALOGUE.high - CATALOGUE.low


def test_hours_without_a_range_learn_one() -> None:
    found = learnt(ThreePoint(low=1, likely=1, high=1), [1.0, 2.0, 3.0])
    assert found.blend.low < found.blend.likely < found.blend.high


def test_several_units_and_another_family_come_back_to_one_on_a_violin() -> None:
    job = Job.model_validate(job_of("crack", further_unit=0.5, family={"cello": 1.6}, families=["violin", "cello"]))
    assert per_unit(job, "violin", 1, 2.0) == 2.0
    assert per_unit(job, "cello", 1, 3.2) == pytest.approx(2.0)
    assert per_unit(job, "cello", 3, 6.4) == pytest.approx(2.0)


def test_own_hours_enter_the_plan_but_not_a_price_set_as_a_whole() -> None:
    rubric = rubric_of((job_of("nut", (0.2, 0.4, 0.6)), job_of("post", (0.4, 0.6, 1.0))), {"high": ("nut",)})
    shop = shop_of(job_prices={"post": (40, 50, 60)})
    found, counts = with_own_hours(rubric, shop, {"nut": (0.6,) * 5, "post": (3.0,), "gone": (1.0,), "empty": ()})
    assert counts == {"nut": 5}
    assert mean_of(found.jobs["nut"].hours) == pytest.approx((0.4 + 0.6) / 2)
    assert found.jobs["post"] == rubric.jobs["post"]
    assert rubric.jobs["nut"].hours.likely == 0.4, "the catalogue stays"
    assessment = assessment_of(rubric, finding_of(rubric, "high"), count=50)
    dearer, usual = (estimate(one, case_of(one), assessment, shop).mean for one in (found, rubric))
    assert dearer - usual == pytest.approx(85 * 0.1)
    draft = draft_of(rubric, shop, estimate(rubric, case_of(rubric), assessment, shop))
    assert draft is not None
    quote = quote_of(at_own_hours(draft, rubric, found, shop, counts), "Q", ON)
    assert [(line.job, line.own_jobs) for line in quote.lines] == [("nut", 5)]
    assert float(quote.lines[0].price.amount) == pytest.approx(dearer, abs=0.01)
    assert quote.lines[0].hours_likely == pytest.approx(found.jobs["nut"].hours.likely, abs=1e-4)
    elsewhere = shop.model_copy(update={"currency": "EUR"})
    assert at_own_hours(draft, rubric, found, elsewhere, counts) == draft, "in other money hours of today say nothing"


def test_own_hours_change_prices_and_never_the_work() -> None:
    rubric = rubric_of((job_of("own", (1, 1.5, 2)), job_of("other", (1.2, 1.7, 2.2))), {"high": ("own", "other")})
    shop, assessment = shop_of(), assessment_of(rubric, finding_of(rubric, "high"), count=50)
    draft = draft_of(rubric, shop, estimate(rubric, case_of(rubric), assessment, shop))
    assert draft is not None
    found, counts = with_own_hours(rubric, shop, {"own": (4.0,) * 20})
    assert [line.job for line in estimate(found, case_of(found), assessment, shop).lines] == ["other"]
    after = at_own_hours(draft, rubric, found, shop, counts)
    assert [line.job for line in after.lines] == ["own"]
    assert after.lines[0].cost.mean > draft.lines[0].cost.mean
