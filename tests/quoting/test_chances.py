"""Chances of extras learnt from done orders: a Beta-binomial blend with the chance told as its prior."""

from dataclasses import replace
from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.stats import beta

from evaluator.quoting.draft import draft_of
from evaluator.quoting.draft import quote_of as quote_from
from evaluator.quoting.learning import PRIOR_ORDERS, OwnChance, at_own_chances, own_chances
from evaluator.wording.quotes import own_orders
from tests.quoting.test_quote import RUBRIC, assessment_of, case_of, estimate, finding_of, quote_of, shop_of


@given(st.floats(0.02, 0.98), st.integers(1, 60), st.data())
def test_the_blend_is_the_mean_of_the_posterior(told: float, orders: int, data: st.DataObject) -> None:
    came = data.draw(st.integers(0, orders))
    one = OwnChance("nut", "Lower the nut", told, orders, came)
    law = beta(PRIOR_ORDERS * told + came, PRIOR_ORDERS * (1 - told) + orders - came)
    share = came / orders
    assert one.blend == pytest.approx(law.mean(), abs=1e-12)
    assert min(told, share) - 1e-12 <= one.blend <= max(told, share) + 1e-12
    assert one.blend == pytest.approx((1 - one.weight) * told + one.weight * share, abs=1e-12)


def test_what_came_is_counted_by_the_second_quotes() -> None:
    quote = quote_of()
    told = next(one for one in quote.extras if one.job == "nut")
    more = replace(quote, number="Q-7/1", lines=(replace(quote.lines[0], job="nut"),), extras=())
    other = replace(more, lines=(replace(quote.lines[0], job="pegs"),))
    found = own_chances([(quote, (more,)), (quote, (other,)), (quote, ())])
    assert set(found) == {one.job for one in quote.extras}
    assert (found["nut"].orders, found["nut"].came) == (3, 1)
    assert found["nut"].told == pytest.approx(told.chance)
    assert own_chances([]) == {}


def test_a_draft_takes_the_blend_and_nothing_else() -> None:
    shop = shop_of()
    work = estimate(RUBRIC, case_of(RUBRIC), assessment_of(RUBRIC, finding_of(RUBRIC, "warp"), count=50), shop)
    draft = draft_of(RUBRIC, shop, work)
    assert draft is not None and draft.extras
    job = draft.extras[0].job
    after = at_own_chances(draft, {job: OwnChance(job, "It", 0.5, 30, 30)})
    assert after.extras[0].chance == pytest.approx((10 * draft.extras[0].chance + 30) / 40)
    assert replace(after, extras=draft.extras) == draft
    assert at_own_chances(draft, {}) == draft


def test_a_quote_says_whose_the_chance_is() -> None:
    shop = shop_of()
    work = estimate(RUBRIC, case_of(RUBRIC), assessment_of(RUBRIC, finding_of(RUBRIC, "warp"), count=50), shop)
    draft = draft_of(RUBRIC, shop, work)
    assert draft is not None
    job = draft.extras[0].job
    told = quote_from(at_own_chances(draft, {job: OwnChance(job, "It", 0.5, 3, 1)}), "Q", date(2026, 3, 4))
    assert own_orders(next(one for one in told.extras if one.job == job)) == "Told by 3 such orders done here."
    plain = quote_from(draft, "Q", date(2026, 3, 4))
    assert {own_orders(one) for one in plain.extras} == {""}
    assert plain.fingerprint() != told.fingerprint()
