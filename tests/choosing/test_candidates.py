"""Candidates side by side: ties, dominance, the set-up rule, what looks could turn, and what cannot be compared."""

from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from evaluator.choosing.candidates import Candidate, Comparison, OpenGroup, compare, told_by, wrong_candidates
from tests.laws import tried

WORLDS = 2000


def candidate(name: str, asking: float | None, quality: float = 70, **keys: Any) -> Candidate:
    """A candidate with so much work (`work`), a spread of its score (`spread`) and a share of barred worlds."""
    random = np.random.default_rng(keys.pop("seed", 7))
    work = np.full(WORLDS, float(keys.pop("work", 0.0)))
    off = random.standard_normal(WORLDS) * keys.pop("spread", 0.0)
    barred = random.random(WORLDS) < keys.pop("barred", 0.0)
    base: dict[str, Any] = {
        "family": "violin",
        "currency": "USD",
        "asking_currency": "USD",
        "cost_to_own": (asking or 0.0) + float(work.mean()),
        "set_up": 0.0,
        "domains": {"workmanship": quality, "playability": quality},
        "shares": {},
    }
    return Candidate(name=name, asking=asking, work=work, off=off, barred=barred, **(base | keys))


def compared(*candidates: Candidate, **keys: Any) -> Comparison:
    assert wrong_candidates(candidates) == ()
    found = compare(candidates, **keys)
    assert sum(found.first_shares) == pytest.approx(1)
    return found


@tried(40)
@given(st.integers(1, 5000), st.floats(1, 100), st.integers(2, 6), st.floats(0, 20), st.floats(0, 1))
def test_an_instrument_beside_itself_is_a_tie(
    asking: int, quality: float, count: int, spread: float, barred: float
) -> None:
    found = compared(*(candidate(f"{i}", asking, quality, spread=spread, barred=barred) for i in range(count)))
    assert found.first_shares == pytest.approx([1 / count] * count)


def test_cheaper_and_better_is_always_first() -> None:
    found = compared(candidate("worse", 1000, 60), candidate("better", 900, 80))
    assert (found.order, found.first_shares) == ((1, 0), (0.0, 1.0))


def test_cheaper_but_worse_divides_opinions() -> None:
    found = compared(candidate("cheap", 600, 60), candidate("fine", 900, 85))
    assert all(0 < share < 1 for share in found.first_shares)


def test_how_much_price_may_weigh_beside_quality_is_drawn_from_a_fifth_to_three_fifths() -> None:
    """Derived: the cheap one, 25 points worse and a third cheaper, is first where price weighs more than 3 / 7."""
    found = compared(candidate("cheap", 600, 60), candidate("fine", 900, 85))
    assert found.first_shares[0] == pytest.approx((0.6 - 3 / 7) / 0.4, abs=0.03)


def test_the_less_is_known_the_less_sure_is_who_comes_first() -> None:
    sure = compared(candidate("a", 900, 75), candidate("b", 900, 70)).first_shares[0]
    unsure = compared(candidate("a", 900, 75, spread=9), candidate("b", 900, 70, spread=9, seed=8)).first_shares[0]
    assert sure == 1.0
    assert 0.55 < unsure < 0.9


def test_a_reason_to_walk_away_makes_it_last_as_often_as_it_is_there() -> None:
    found = compared(candidate("barred", 500, 90, barred=0.3), candidate("plain", 900, 60))
    assert found.first_shares[0] == pytest.approx(0.7, abs=0.03)


@tried(30)
@given(st.floats(100, 2000), st.floats(1, 800))
def test_a_dearer_asking_price_never_helps(asking: float, more: float) -> None:
    other = candidate("other", 800, 75, spread=5, seed=3)
    now = compared(candidate("one", asking, 70, spread=5), other).first_shares[0]
    then = compared(candidate("one", asking + more, 70, spread=5), other).first_shares[0]
    assert then <= now + 1e-9


def test_850_with_150_of_set_up_outranks_1000_without_it() -> None:
    """Common practice, no source. The set-up here comes to 150; the same violin at 1,000 still lacks it."""
    one, other = (candidate(f"{asking}", asking, work=150, set_up=150.0) for asking in (850, 1000))
    for counts in (1.0, 2.0):
        found = compared(one, other, set_up_counts=counts)
        assert found.order == (0, 1)
        assert found.set_up_counts == counts
    assert compared(one, other, set_up_counts=2.0).counted_costs[0] == pytest.approx(850)


def group(shown: np.ndarray, minutes: float = 2.0, part: str = "cracks") -> OpenGroup:
    return OpenGroup(part, ("x",), minutes, shown.astype(float).reshape(-1, 1))


def test_a_look_that_settles_the_score_turns_the_order_as_often_as_the_score_does() -> None:
    bad = np.random.default_rng(5).random(WORLDS) < 0.2
    ahead = candidate("ahead", 900, 80, open_groups=(group(bad), group(~bad & False, part="none")))
    object.__setattr__(ahead, "off", np.where(bad, -40.0, 10.0))
    found = compared(ahead, candidate("behind", 900, 70))
    assert [look.part for look in found.looks] == ["cracks"]
    look = found.looks[0]
    assert (look.candidate, look.chance) == (0, pytest.approx(bad.mean()))
    assert look.by_the_minute == pytest.approx(bad.mean() / 2)


def test_the_shorter_of_two_equal_looks_comes_first_and_a_third_candidate_is_not_asked() -> None:
    bad = np.random.default_rng(5).random(WORLDS) < 0.2
    groups = (group(bad, 10.0, "long"), group(bad, 1.0, "short"))
    ahead = candidate("ahead", 900, 80, open_groups=groups)
    object.__setattr__(ahead, "off", np.where(bad, -40.0, 10.0))
    last = candidate("last", 5000, 20, open_groups=groups)
    found = compared(ahead, candidate("behind", 900, 70), last)
    assert [(look.candidate, look.part) for look in found.looks] == [(0, "short"), (0, "long")]


def test_no_look_is_worth_while_at_one_that_is_to_be_left() -> None:
    bad = np.random.default_rng(5).random(WORLDS) < 0.2
    ahead = candidate("ahead", 900, 80, open_groups=(group(bad),), to_be_left=True)
    object.__setattr__(ahead, "off", np.where(bad, -40.0, 10.0))
    assert compared(ahead, candidate("behind", 900, 70)).looks == ()


def test_a_look_that_says_nothing_of_the_value_is_not_proposed() -> None:
    random = np.random.default_rng(5)
    idle = OpenGroup("idle", ("x",), 1.0, (random.random((WORLDS, 30)) < 0.5).astype(float))
    found = compared(candidate("a", 900, 73, spread=9, open_groups=(idle,)), candidate("b", 900, 70, spread=9, seed=8))
    assert found.looks == ()


def test_what_is_told_has_the_mean_and_no_more_than_the_spread_of_the_value() -> None:
    random = np.random.default_rng(1)
    shown = (random.random((WORLDS, 5)) < 0.3).astype(float)
    value = shown @ np.array([1.0, 2.0, 0.0, 0.0, 0.0]) + random.standard_normal(WORLDS)
    told = told_by(shown, value)
    assert told.mean() == pytest.approx(value.mean())
    assert told.var() == pytest.approx(0.21 * (1 + 4), rel=0.1)
    assert np.ptp(told_by(np.zeros((WORLDS, 2)), value)) == 0


@pytest.mark.parametrize(
    ("candidates", "code"),
    [
        ((candidate("one", 100),), "compare.count"),
        (tuple(candidate(f"{i}", 100) for i in range(7)), "compare.count"),
        ((candidate("one", 100), candidate("two", None, asking_currency=None)), "compare.asking"),
        ((candidate("one", 100), candidate("two", 100, asking_currency="EUR")), "compare.currency"),
        ((candidate("one", 100), candidate("two", 100, currency="EUR", asking_currency="EUR")), "compare.currency"),
        ((candidate("one", 100), candidate("two", 100, family="viola")), "compare.family"),
    ],
)
def test_what_cannot_be_compared_is_said(candidates: tuple[Candidate, ...], code: str) -> None:
    assert [one.code for one in wrong_candidates(candidates)] == [code]
