"""Comparison of snapshots: a frozen one is drawn anew from its ranges, and close to the draft that it came from."""

import json
from dataclasses import replace

import pytest

from evaluator.assessment.observing.case import read_case
from evaluator.choosing.entrants import Entrant, entrant_of, names_of
from evaluator.choosing.told import ComparisonTold
from evaluator.result.evaluation import Evaluation, evaluate
from evaluator.result.json_form import read_result, to_json
from evaluator.result.making.result import result_of
from evaluator.rubric.files.shop_file import load_shop
from evaluator.rubric.rubric import Rubric
from evaluator.rubric.shop import Shop
from evaluator.store.folders import rubrics_folder
from evaluator.wording.choosing.comparison import comparison_json
from tests.known import shipped


@pytest.fixture(scope="module")
def rubric() -> Rubric:
    return shipped("violin")


@pytest.fixture(scope="module")
def shop() -> Shop:
    found, problems = load_shop(rubrics_folder() / "shop.yaml")
    assert found is not None, problems
    return found


def evaluated(rubric: Rubric, shop: Shop, asking: str, **observations: str) -> Evaluation:
    data = {
        "format": 1,
        "rubric": "violin",
        "instrument": {"size": "4/4", "style": "classical", "tier": "student"},
        "asking": {"amount": asking, "currency": "USD"},
        "ready_value": {"amount": "1500", "currency": "USD"},
        "observations": observations,
    }
    case, problems = read_case(rubric, data)
    assert case is not None, problems
    return evaluate(rubric, case, shop)


def frozen(name: str, one: Evaluation) -> Entrant:
    return Entrant(name, read_result(json.loads(json.dumps(to_json(one)))), one.rubric)


def compared(shop: Shop, *entrants: Entrant) -> ComparisonTold:
    found = comparison_json(entrants, shop)
    assert isinstance(found, ComparisonTold)
    assert sum(row.first_share for row in found.candidates) == pytest.approx(1, abs=1e-3)
    return found


def test_a_frozen_one_beside_itself_is_a_tie_and_no_look_at_it_is_proposed(rubric: Rubric, shop: Shop) -> None:
    one = evaluated(rubric, shop, "700")
    found = compared(shop, frozen("a", one), frozen("b", one))
    assert [row.first_share for row in found.candidates] == [0.5, 0.5]
    assert found.look_next is None
    assert [row.next_look for row in found.candidates] == [None, None]


def test_a_frozen_one_is_close_to_the_draft_it_came_from(rubric: Rubric, shop: Shop) -> None:
    one = evaluated(rubric, shop, "700", bridge_fitted_feet="gaps")
    other = evaluated(rubric, shop, "800")
    shares = [
        next(row.first_share for row in compared(shop, first, second).candidates if row.name == "one")
        for first, second in (
            (entrant_of("one", one), entrant_of("other", other)),
            (frozen("one", one), frozen("other", other)),
        )
    ]
    assert shares[0] == pytest.approx(shares[1], abs=0.1)


def test_figures_are_those_of_the_snapshot(rubric: Rubric, shop: Shop) -> None:
    one = frozen("one", evaluated(rubric, shop, "700"))
    shown = replace(one.result, verdict=replace(one.result.verdict, work=123.0, work_dear=150.0))
    found = compared(shop, Entrant("one", shown, rubric), frozen("other", evaluated(rubric, shop, "900")))
    row = next(row for row in found.candidates if row.name == "one")
    assert (row.work, row.cost_to_own, row.cost_to_own_p80) == (123.0, 823.0, 850.0)


def ranged(one: Entrant, quality: float, price: tuple[float, float], low: float, high: float) -> Entrant:
    """The same result with these figures: its quality in every domain, its price, the range of its score."""
    shown = one.result
    domains = {
        name: replace(domain, after_work=replace(domain.after_work, expected=quality))
        for name, domain in shown.domains.items()
    }
    after = replace(shown.score_after_work, expected=quality, low=low, high=high)
    verdict = replace(shown.verdict, work=price[0], work_dear=price[1], unseen=0.0)
    changed = replace(
        shown,
        domains=domains,
        score_after_work=after,
        verdict=verdict,
        disqualifying=(),
    )
    return Entrant(f"quality {quality:g}, price {price[0]:g}", changed, one.rubric)


def first_share(shop: Shop, one: Entrant, other: Entrant) -> float:
    found = compared(shop, one, other)
    return float(next(row.first_share for row in found.candidates if row.name == one.name))


def test_a_kept_range_is_the_middle_nine_tenths_of_a_bell(rubric: Rubric, shop: Shop) -> None:
    """Derived: 10 points apart, ranges of 20, equal prices; the normal law below 10 / (20 / 3.29 x sqrt 2)."""
    one, free = frozen("one", evaluated(rubric, shop, "700")), (0.0, 0.0)
    share = first_share(shop, ranged(one, 80, free, 70, 90), ranged(one, 70, free, 60, 80))
    assert share == pytest.approx(0.8776, abs=0.02)


def test_a_kept_price_reaches_its_level_in_four_of_five_draws(rubric: Rubric, shop: Shop) -> None:
    """Derived: 80 between the means, levels 100 above them; the normal law below 80 / (100 / 0.8416 x sqrt 2)."""
    one = frozen("one", evaluated(rubric, shop, "700"))
    cheap, dear = (ranged(one, 70, (mean, mean + 100), 70, 70) for mean in (400.0, 480.0))
    assert first_share(shop, cheap, dear) == pytest.approx(0.683, abs=0.02)


def test_names_are_told_apart(rubric: Rubric, shop: Shop) -> None:
    one = frozen("", evaluated(rubric, shop, "700"))
    assert names_of([one, one]) == ["Candidate 1", "Candidate 2"]
    named = Entrant("Red", one.result, rubric)
    assert names_of([named, named, named]) == ["Red", "Red (2)", "Red (3)"]


def test_a_look_is_proposed_with_its_minutes_and_chance(rubric: Rubric, shop: Shop) -> None:
    found = compared(
        shop,
        entrant_of("one", evaluated(rubric, shop, "700")),
        entrant_of("other", evaluated(rubric, shop, "720", bridge_fitted_feet="no_light")),
    )
    look = found.look_next
    assert look is not None
    assert look.name in {"one", "other"}
    assert look.minutes > 0
    assert 0.02 <= look.chance <= 1
    assert {rubric.checks[check].part for check in look.checks} == {look.part}


@pytest.mark.parametrize(
    ("advice", "noted"), [(("walk_away", "buy"), ["one"]), (("buy", "walk_away"), []), (("buy",) * 2, [])]
)
def test_one_to_be_left_that_stands_before_a_sound_one_is_named(
    rubric: Rubric, shop: Shop, advice: tuple[str, str], noted: list[str]
) -> None:
    cheap, dear = evaluated(rubric, shop, "300"), evaluated(rubric, shop, "1400")
    entrants = []
    for name, one, told in zip(("one", "two"), (cheap, dear), advice, strict=True):
        shown = result_of(one)
        verdict = replace(shown.verdict, advice=told)  # type: ignore[arg-type]
        entrants.append(Entrant(name, replace(shown, verdict=verdict), rubric))
    found = compared(shop, *entrants)
    assert [row.name for row in found.candidates] == ["one", "two"]
    told_of = [name for name in ("one", "two") for note in found.notes if f"“{name}” stands where" in note]
    assert told_of == noted
