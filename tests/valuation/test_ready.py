"""The ready value: which source goes first, what it rests on, and where there is none."""

from dataclasses import replace
from math import exp

import pytest

from evaluator.valuation.sales.sales_book import SalesBook
from evaluator.valuation.worth.answers import Answer, answers_of
from evaluator.valuation.worth.guide import ClassValue, home_of, law_at, tone_place, usual_cost
from evaluator.valuation.worth.ready import ByGuide, BySales, ready_value, rounded_guide
from tests.valuation.made import FACTORY, GUIDE, RUBRIC, SEEN, assessed, case_with, shop_with, usd, weighed
from tests.valuation.test_sales_book import ON, sale

HALF = {"factory": 0.5, "maker": 0.5}


def test_the_guide_is_read_by_class_and_size_and_says_whose_it_is() -> None:
    ready = weighed(case_with(SEEN)).ready
    assert (ready.value, ready.kind, ready.with_bow_and_case) == (usd(800), "price_guide", True)
    low, high = ready.low or 0.0, ready.high or 0.0
    told = ByGuide(shop="The Test Bench", making="factory", low=low, high=high, outfit=True, left=None)
    assert ready.source == told
    memory = shop_with()
    memory = memory.model_copy(update={"guide": memory.guide.model_copy(update={"from_memory": True})})
    assert weighed(case_with(SEEN), shop=memory).ready.source == replace(told, shop=None)
    assert ready.low is not None and ready.high is not None
    assert ready.low < 800 < ready.high


def test_a_small_size_is_worth_less_and_a_fine_small_one_less_again() -> None:
    guide = shop_with().guide
    assert guide.size_factor("violin", "1/2", "factory") == pytest.approx(0.7)
    assert guide.size_factor("violin", "1/2", "maker") == pytest.approx(0.7 * 0.75)
    assert guide.size_factor("violin", "4/4", "maker") == 1.0


@pytest.mark.parametrize(
    ("seen", "shares", "missing"),
    [({}, FACTORY, "nothing_seen"), ({"edge": "fine"}, FACTORY, "nothing_seen"), (SEEN, HALF, "too_wide")],
)
def test_there_is_no_figure_that_nobody_can_act_on(
    seen: dict[str, str], shares: dict[str, float], missing: str
) -> None:
    ready = weighed(case_with(seen), shares).ready
    assert (ready.value, ready.missing) == (None, missing)
    assert (ready.low is None) == (missing == "nothing_seen")
    assert weighed(case_with(seen, own=700), shares).ready.value == usd(700)


def test_a_shop_without_a_guide_has_no_figure() -> None:
    assert weighed(case_with(SEEN), shop=shop_with(guide={})).ready.missing == "no_guide"


def test_lasting_faults_lower_the_guide_and_are_in_an_own_figure_already() -> None:
    mended = SEEN | {"wing": "mended"}
    assert weighed(case_with(mended)).ready.value == usd(750)  # 94 of 100, to half a unit of the second figure
    source = weighed(case_with(mended)).ready.source
    assert isinstance(source, ByGuide) and source.left == 0.94
    assert weighed(case_with(mended, own=777)).ready.value == usd(777)


def test_a_bad_sound_lowers_it_and_a_good_one_raises_it() -> None:
    dead, plain, rings = (
        weighed(case_with(SEEN | more)).ready.mixture for more in ({"ring": "dead"}, {}, {"ring": "rings"})
    )
    assert dead is not None and plain is not None and rings is not None
    assert dead.middle < 0.6 * plain.middle < plain.middle < rings.middle < 1.3 * plain.middle


def test_enough_known_sales_go_before_the_own_figure_and_that_before_the_guide() -> None:
    three = SalesBook((sale(1000), sale(1100), sale(1200)), ON)
    found = weighed(case_with(SEEN, own=700), book=three).ready
    assert (found.kind, found.value) == ("comparables", usd(1100))
    assert isinstance(found.source, BySales) and (found.source.count, found.source.before) == (3, usd(700))
    assert weighed(case_with(SEEN, own=700), book=SalesBook((sale(1000),), ON)).ready.kind == "own_figure"
    assert weighed(case_with(SEEN), book=SalesBook((sale(1000),), ON)).ready.kind == "price_guide"


def test_no_sale_is_graded_against_a_body_that_nobody_looked_at() -> None:
    book = SalesBook(tuple(sale(2000, made=90.0, name=name) for name in "abc"), ON)
    ready = weighed(case_with({}), HALF, book=book).ready
    assert ready.value is None
    assert ready.sales is not None and [row.comparable.grade for row in ready.sales.rows] == [1.0, 1.0, 1.0]


def test_a_sound_counts_by_how_sure_it_is() -> None:
    """Derived: the only check of the sound; dead (worth 0.1) is 0.7 below the usual, half believed half of that."""
    ring = RUBRIC.checks["ring"]
    whole, half = (tone_place(RUBRIC, {"ring": Answer(ring, "dead", sure)}) for sure in (1.0, 0.5))
    assert whole == pytest.approx(exp(-1.4 * 0.7))
    assert half == pytest.approx(exp(-1.4 * 0.35))


def test_what_only_shows_a_matter_counts_where_the_matter_is_at_home() -> None:
    wing = RUBRIC.checks["wing"]
    shown = wing.outcomes["mended"].model_copy(update={"counts_as": "post_crack.patched"})
    pointing = wing.model_copy(update={"outcomes": {**wing.outcomes, "mended": shown}})
    check, outcome = home_of(RUBRIC, Answer(pointing, "mended", 1.0))
    assert (check.check, outcome.say) == ("post_crack", "Patched")
    assert home_of(RUBRIC, Answer(wing, "mended", 1.0))[0].check == "wing"


def test_a_bow_is_never_sold_with_bow_and_case() -> None:
    bow = replace(RUBRIC, family="bow")
    guide = {**GUIDE, "prices": {"bow": GUIDE["prices"]["violin"]}, "sizes": {"bow": {"4/4": 1.0}}}
    shop = shop_with(guide=guide)
    case, found = case_with(SEEN), assessed(case_with(SEEN), FACTORY)
    answers = answers_of(bow, case, found)
    for rubric, with_case in ((bow, False), (RUBRIC, True)):
        priced = shop if rubric is bow else shop_with()
        assert ready_value(rubric, case, found, priced, answers).with_bow_and_case == with_case


@pytest.mark.parametrize(
    ("price", "told"),
    [(0.0, 0.0), (-3.0, 0.0), (1234.0, 1250.0), (1224.0, 1200.0), (87.0, 87.0), (87.3, 87.5), (9.97, 9.95),
     (99_700.0, 99_500.0), (1000.0, 1000.0), (16_449.0, 16_500.0)],
)  # fmt: skip
def test_a_guide_is_told_to_half_a_unit_of_the_second_figure(price: float, told: float) -> None:
    """Worked by hand: of 1234 the second figure is hundreds, so fifties."""
    assert rounded_guide(price) == pytest.approx(told)


def test_a_rubric_without_a_place_to_listen_moves_no_value() -> None:
    deaf = replace(RUBRIC, checks={name: one for name, one in RUBRIC.checks.items() if one.part != "sound"})
    rings = {"ring": Answer(RUBRIC.checks["ring"], "rings", 1.0)}
    assert tone_place(deaf, rings) == 1.0
    assert tone_place(RUBRIC, {}) == 1.0
    assert tone_place(RUBRIC, {"ring": Answer(RUBRIC.checks["ring"], "dead", 1.0)}) < 1.0 < tone_place(RUBRIC, rings)


def test_what_nobody_looked_at_costs_the_mean_of_the_classes() -> None:
    """Worked by hand: factory 200 with nothing seen and 60 in the hand, a maker's 600 and 250; half way 130 and 425."""
    guide = shop_with().guide
    assert usual_cost(guide, "violin", HALF, 0.0, answered_for=False) == 400
    assert usual_cost(guide, "violin", HALF, 0.5, answered_for=False) == 277.5
    assert usual_cost(guide, "violin", HALF, 1.0, answered_for=False) == 155
    assert usual_cost(guide, "violin", HALF, 1.5, answered_for=False) == 155
    assert usual_cost(guide, "violin", HALF, 1.0, answered_for=True) == 50
    assert usual_cost(guide, "violin", {"factory": 1.0, "robot": 0.0}, 0.0, answered_for=False) == 200
    assert usual_cost(guide, "violin", {"factory": 0.5, "robot": 0.5}, 0.0, answered_for=False) is None
    doubled = guide.model_copy(update={"unseen_factor": {"cello": 2.0}})
    assert usual_cost(doubled, "cello", FACTORY, 0.0, answered_for=False) == 400


def test_what_lasts_and_how_it_sounds_move_a_price_and_not_its_spread() -> None:
    """Half is left and a tenth is lost by the sound: every price of the class times 0.45."""
    whole = ClassValue("factory", 0.6, 400, 800, 1600, 1.0)
    law, less = law_at(whole, 1.0), law_at(replace(whole, left=0.5), 0.9)
    assert (less.share, less.log_sd) == (0.6, pytest.approx(law.log_sd))
    assert exp(less.log_mean) == pytest.approx(0.45 * 800)


def test_a_band_too_wide_to_act_on_is_told_without_a_figure() -> None:
    ready = weighed(case_with(SEEN), HALF).ready
    assert (ready.value, ready.missing, ready.sales) == (None, "too_wide", None)
    assert ready.reading is not None and ready.low is not None and ready.high is not None
    assert ready.high > 9 * ready.low
