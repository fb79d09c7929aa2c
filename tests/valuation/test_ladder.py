"""The ladder of advice: where it turns, and its laws."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from evaluator.valuation.deciding.ladder import NOTHING, RUNGS, Limits, Sums, limits, rung_at
from tests.known import AT

PRICES = st.floats(1, 20_000)
SUMS = st.builds(Sums, PRICES, PRICES, PRICES, PRICES, st.floats(0, 2_000), st.just(AT))


def sums_of(worth: float, worth_low: float, work: float, work_dear: float, unseen: float) -> Sums:
    return Sums(worth, worth_low, work, work_dear, unseen, AT)


@pytest.mark.parametrize(
    ("sums", "stopped", "ceiling", "offer"),
    [
        (sums_of(1000, 1000, 100, 150, 0), False, 900, 850),
        (sums_of(1000, 900, 100, 150, 50), False, 850, 700),
        (sums_of(1000, 500, 100, 150, 50), False, 850, 0.7 * 850),  # what is less is no offer
        (sums_of(1000, 1000, 400, 501, 0), False, 0.7 * 600, 0.7 * 600),  # the work may take more than half
        (sums_of(1000, 1000, 100, 150, 0), True, 0.55 * 900, 0.55 * 900),  # what money does not cure
        (sums_of(300, 300, 280, 290, 50), False, 0, 0),
        (sums_of(1000, 1200, 0, 0, 0), False, 1000, 1000),
    ],
)
def test_limits(sums: Sums, stopped: bool, ceiling: float, offer: float) -> None:
    found = limits(sums, stopped=stopped)
    assert (found.ceiling, found.offer) == pytest.approx((ceiling, offer))


@pytest.mark.parametrize(
    ("asking", "keys", "rung"),
    [
        (850, {}, "buy"),
        (851, {}, "buy_if_it_suits"),
        (900, {}, "buy_if_it_suits"),
        (901, {}, "negotiate"),
        (1350, {}, "negotiate"),
        (1351, {}, "walk_away"),
        (100, {"chance": 0.64}, "buy_if_it_suits"),
        (100, {"stop_likely": True}, "buy_if_it_suits"),
        (100, {"hard": True}, "buy_if_it_suits"),
    ],
)
def test_rungs(asking: float, keys: dict[str, float], rung: str) -> None:
    assert rung_at(asking, Limits(900, 850), AT, **keys) == rung
    assert rung_at(asking, NOTHING, AT) == "walk_away"


@given(SUMS, st.booleans(), PRICES, st.floats(0, 5_000), st.floats(0, 1), st.floats(0, 1))
def test_a_dearer_price_never_climbs(
    sums: Sums, stopped: bool, asking: float, more: float, chance: float, less: float
) -> None:
    found = limits(sums, stopped=stopped)
    now = rung_at(asking, found, AT, chance=chance)
    then = rung_at(asking + more, found, AT, chance=chance * less)
    assert RUNGS.index(then) <= RUNGS.index(now)


@given(SUMS, st.booleans())
def test_the_offer_never_passes_the_ceiling_nor_the_ceiling_the_worth(sums: Sums, stopped: bool) -> None:
    found = limits(sums, stopped=stopped)
    assert 0 <= found.offer <= found.ceiling <= sums.worth
    assert found.offer_at(100) <= 100


@given(SUMS, st.booleans(), st.floats(0, 1), st.floats(0, 1), st.floats(0, 3_000), st.floats(0, 3_000))
def test_less_worth_and_more_work_never_raise_the_limits(
    sums: Sums, stopped: bool, less: float, low: float, dearer: float, unseen: float
) -> None:
    worse = Sums(
        sums.worth * less,
        sums.worth_low * less * low,
        sums.work + dearer,
        sums.work_dear + dearer,
        sums.unseen + unseen,
        AT,
    )
    before, after = limits(sums, stopped=stopped), limits(worse, stopped=stopped)
    for one, other in ((after.ceiling, before.ceiling), (after.offer, before.offer)):
        assert one <= other + 1e-9
    assert limits(sums, stopped=True).ceiling <= before.ceiling + 1e-9
