"""The one decision: what is tried first, what stops it, what it costs to this buyer, how sure it is, and why."""

from dataclasses import replace

import pytest

from evaluator.basis.money import Money
from evaluator.estimate.estimate import estimate
from evaluator.rubric.shop import Tax
from evaluator.rubric.written.kinds import Tier
from evaluator.valuation.deciding.decide import said
from evaluator.valuation.deciding.stops import stopped_worlds
from evaluator.valuation.deciding.turning import share_of_guides
from evaluator.valuation.deciding.weigh import taxed
from evaluator.valuation.model import Fact
from tests.estimate.small import assessment_of, case_of, finding_of, job_of, rubric_of, shop_of
from tests.valuation.made import FACTORY, GUIDE, SEEN, case_with, decided, shop_with, usd, weighed

FROM_SHOP = SEEN | {"seller": "shop"}
HALF = {"factory": 0.5, "maker": 0.5}


@pytest.mark.parametrize(
    ("amount", "wanted"), [(0, 0), (-3, 0), (42.9, 42), (168, 165), (999, 995), (1049.7, 1040), (12_345, 12_300)]
)
def test_a_price_is_said_in_round_figures_and_never_rounded_up(amount: float, wanted: float) -> None:
    assert said(amount) == wanted


@pytest.mark.parametrize(("asking", "advice"), [(400, "buy"), (740, "buy_if_it_suits"), (900, "negotiate")])
def test_the_ladder_where_a_shop_stands_behind_it(asking: float, advice: str) -> None:
    found = decided(case_with(FROM_SHOP, asking))
    assert found.advice == advice
    assert found.offer is not None and found.ceiling is not None
    assert found.offer <= min(found.ceiling, asking)


def test_a_buyer_without_a_shop_behind_him_pays_the_private_share() -> None:
    with_shop, alone = decided(case_with(FROM_SHOP)), decided(case_with(SEEN))
    assert with_shop.worth == pytest.approx(800) and alone.worth == pytest.approx(0.7 * 800)
    assert with_shop.unseen < alone.unseen
    assert [one.fact for one in alone.because if one.fact is Fact.NO_SHOP] == [Fact.NO_SHOP]
    assert not [one for one in with_shop.because if one.fact is Fact.NO_SHOP]


def test_without_a_price_there_are_limits_and_no_advice() -> None:
    found = decided(case_with(FROM_SHOP))
    assert (found.advice, found.sure, found.settled) == (None, None, False)
    assert found.ceiling is not None and found.ceiling > 0


def test_two_currencies_are_not_compared() -> None:
    found = decided(replace(case_with(SEEN, own=900), asking=Money(usd(800).amount, "EUR")))
    assert (found.advice, found.two_currencies, found.ceiling, found.because) == (None, True, None, ())


@pytest.mark.parametrize(
    ("seen", "asking", "advice"),
    [
        ({"post_crack": "patched"}, 100, "buy_if_it_suits"),  # the price of such an instrument
        ({"post_crack": "patched"}, 190, "negotiate"),
        ({"post_crack": "patched"}, 500, "walk_away"),
        ({"post_crack": "open"}, 100, "walk_away"),  # the patch costs more than it will be worth
        ({"owner": "evasive"}, 1, "walk_away"),  # whatever the price
    ],
)
def test_what_stops_it(seen: dict[str, str], asking: float, advice: str) -> None:
    faults = ("post_crack",) if seen.get("post_crack") == "open" else ()
    found = decided(case_with(FROM_SHOP | seen, asking), faults=faults)
    assert found.advice == advice
    assert found.because[0].fact is Fact.STOPS
    assert found.stopped_by == (next(iter(seen)),)
    assert found.hard


def test_a_figure_typed_for_a_mended_one_holds_its_fault_already() -> None:
    found = decided(case_with(FROM_SHOP | {"post_crack": "patched"}, 500, own=700))
    assert (found.advice, found.hard) == ("buy_if_it_suits", True)
    assert found.ceiling == pytest.approx(700, abs=40)


def test_at_any_price_means_that_nothing_is_offered() -> None:
    found = decided(case_with(FROM_SHOP | {"owner": "evasive"}, 100))
    assert (found.offer, found.ceiling, found.settled) == (0, 0, True)


def test_walking_away_comes_before_looking_where_even_a_sound_rest_would_not_save_it() -> None:
    few = {"edge": "fine", "wing": "none"}
    dear = decided(case_with(few, 3000), unseen={"post_crack": 0.3})
    assert (dear.advice, dear.settled, dear.could_change) == ("walk_away", True, ())
    assert decided(case_with({"edge": "fine"}, 3000)).advice == "look_first"  # one look is no look


def test_looking_comes_first_where_too_little_was_seen() -> None:
    assert decided(case_with({}, 700)).advice == "look_first"
    assert decided(case_with({}, 700, own=900)).advice == "look_first"
    half = decided(case_with(SEEN, 900), HALF)
    assert (half.advice, half.ceiling, half.sure) == ("look_first", None, None)
    assert Fact.NO_VALUE in [one.fact for one in half.because]


def test_looking_comes_first_where_a_look_may_turn_it() -> None:
    seen = {"wing": "none", "edge": "fine", "bridge": "good", "seller": "shop"}
    open_, shut = (decided(case_with(seen, 500), unseen={"post_crack": chance}) for chance in (0.35, 0.0))
    assert open_.advice == "look_first"
    assert [one.check for one in open_.could_change][:1] == ["post_crack"]
    assert open_.turning is not None and open_.turning.chance == pytest.approx(0.35, abs=0.04)
    assert shut.advice in ("buy", "buy_if_it_suits")
    assert Fact.MAY_STOP in [one.fact for one in open_.because]


def test_a_price_far_too_low_asks_for_a_look_and_a_high_one_proves_nothing() -> None:
    cheap = decided(case_with({"edge": "fine", "wing": "none", "seller": "shop", "post_crack": "none"}, 60))
    assert cheap.advice == "look_first"
    assert Fact.FAR_TOO_CHEAP in [one.fact for one in cheap.because]
    low, high = (weighed(case_with(SEEN, asking)) for asking in (60, 6000))
    assert low.ready.value == high.ready.value


def test_the_chance_is_the_one_that_makes_a_buy() -> None:
    found = [decided(case_with(FROM_SHOP, asking)) for asking in (300, 500, 700, 780, 1000)]
    chances = [one.sure or 0.0 for one in found]
    assert chances == sorted(chances, reverse=True)
    assert all((one.sure or 0.0) >= 0.65 for one in found if one.advice == "buy")
    assert chances[3] == pytest.approx(0.5, abs=0.05)  # at the ceiling it is even


def test_unseen_faults_count_once_in_the_ceiling_and_in_the_chance() -> None:
    case = case_with(FROM_SHOP, 500)
    one = weighed(case, unseen={"bridge": 0.5})
    assert one.worlds is not None and one.sums is not None
    assert float(one.worlds.unseen.mean()) == pytest.approx(one.sums.unseen)
    assert one.net is not None
    assert float(one.net.mean()) == pytest.approx(one.sums.worth - one.sums.work - one.sums.unseen - 500)


def test_the_buyer_pays_the_work_with_the_tax_of_the_shop() -> None:
    case = case_with(FROM_SHOP | {"bridge": "poor"}, 500)
    plain = decided(case, faults=("bridge",))
    dearer = decided(case, faults=("bridge",), shop=shop_with(tax=Tax(labour=0.2, parts=0.1)))
    assert dearer.work == pytest.approx(1.2 * plain.work)  # it is all labour
    assert dearer.ceiling is not None and plain.ceiling is not None and dearer.ceiling < plain.ceiling


def test_labour_and_parts_are_taxed_each_by_its_own() -> None:
    """Worked by hand: of 250 a blank makes 80, so 170 at a fifth and 80 at a tenth are 42 more."""
    rubric = rubric_of((job_of("one", (2, 2, 2), parts=[{"part": "blank", "count": 4}]),), {"x": ("one",)},
                       parts={"blank": (20, 20, 20)})  # fmt: skip
    work = estimate(rubric, case_of(rubric), assessment_of(rubric, finding_of(rubric, "x")), shop_of())
    assert work.mean == pytest.approx(250)
    assert taxed(work, Tax(labour=0.2, parts=0.1)) == pytest.approx(1 + 42 / 250)
    nothing = estimate(rubric, case_of(rubric), assessment_of(rubric), shop_of())
    assert taxed(nothing, Tax(labour=0.2, parts=0.1)) == 1.2


def test_each_reason_of_money_carries_its_amount() -> None:
    one = weighed(case_with(SEEN | {"bridge": "poor"}, 500), faults=("bridge",))
    found = decided(case_with(SEEN | {"bridge": "poor"}, 500), faults=("bridge",))
    said_of = {told.fact: told for told in found.because}
    assert one.sums is not None and one.sums.work > 0 and one.unseen > 1
    assert said_of[Fact.READY].amount == 800
    assert (said_of[Fact.NO_SHOP].amount, said_of[Fact.NO_SHOP].share) == (one.sums.worth, one.sums.worth / 800)
    assert (said_of[Fact.WORK].amount, said_of[Fact.WORK].most) == (one.sums.work, one.estimate.with_extras_p80)
    assert said_of[Fact.UNSEEN].amount == one.unseen == found.unseen
    assert said_of[Fact.CHANCE].share == found.sure


def test_what_buying_gains_has_the_mean_of_the_ceiling_less_the_price_and_no_far_tails() -> None:
    """Of the worlds one in forty at each end counts as the next one."""
    one = weighed(case_with(FROM_SHOP, 500))
    assert one.net is not None and one.limits is not None
    assert one.net.mean() == pytest.approx(one.limits.ceiling - 500)
    for end in (one.net.min(), one.net.max()):
        assert (one.net == end).mean() == pytest.approx(1 / 40, abs=0.002)
    assert weighed(case_with(FROM_SHOP)).net is None, "no price, no gain"
    assert weighed(case_with(FROM_SHOP), HALF).net is None


def test_a_guide_that_says_nothing_of_the_unseen_reckons_nothing_for_it() -> None:
    silent = shop_with(guide={key: value for key, value in GUIDE.items() if key != "unseen"})
    one = weighed(case_with(SEEN, 500), shop=silent)
    assert one.unseen == 0.0
    assert (one.spent == one.estimate.draws_with_extras * one.taxed).all()
    usual = weighed(case_with(SEEN, 500))
    assert (usual.spent > usual.estimate.draws_with_extras).all()


def test_reasons_name_what_was_seen_before_money_and_what_is_good_among_them() -> None:
    found = decided(case_with(FROM_SHOP | {"bridge": "poor"}, 500), faults=("bridge",))
    facts = [one.fact for one in found.because]
    assert Fact.GOOD in facts and Fact.FAULT in facts
    money = [facts.index(one) for one in (Fact.READY, Fact.WORK, Fact.UNSEEN, Fact.CHANCE)]
    assert money == sorted(money)
    assert max(facts.index(Fact.GOOD), facts.index(Fact.FAULT)) < money[0]


def test_a_guide_that_is_far_from_the_price_leaves_the_advice_whatever_it_says() -> None:
    for asking, wanted in ((200, 1.0), (2500, 1.0), (740, 0.6)):
        case = case_with(FROM_SHOP, asking)
        holds = share_of_guides(weighed(case), decided(case))
        assert holds is not None and (holds == wanted if wanted == 1.0 else holds < wanted)
    own = case_with(FROM_SHOP, 500, own=900)
    assert share_of_guides(weighed(own), decided(own)) is None


TIERS: tuple[Tier, ...] = ("student", "intermediate", "professional")


@pytest.mark.parametrize("shares", [FACTORY, HALF])
def test_worth_follows_from_answers_and_not_from_the_standard_held_to(shares: dict[str, float]) -> None:
    case = case_with(FROM_SHOP, 500)
    held = [replace(case, instrument=replace(case.instrument, tier=tier)) for tier in TIERS]
    laws = [weighed(one, shares).ready.mixture for one in held]
    assert laws[0] is not None and laws[0] == laws[1] == laws[2]


def test_where_something_stops_it_one_is_left_with_what_it_is_sold_on_for() -> None:
    """In the worlds in which its owner turns out to have no right to it, it brings three tenths of its worth."""
    one = weighed(case_with({"post_crack": "none", "wing": "none", "edge": "fine"}), unseen={"owner": 0.5})
    barred = stopped_worlds(one.rubric, one.case, one.assessment)
    assert one.worlds is not None and 0.4 < barred.mean() < 0.6
    left = one.worlds.worth[barred].mean() / one.worlds.worth[~barred].mean()
    assert left == pytest.approx(one.figure("sold_on"), rel=0.06)
    assert one.figure("sold_on") == 0.3


def test_what_sounds_bad_sells_at_no_usual_price_but_its_owners_figure_knows_that() -> None:
    dead = weighed(case_with(SEEN | {"ring": "dead"}, 500))
    assert (dead.is_unsellable, dead.lowered, dead.hard) == (True, True, True)
    assert dead.factor < weighed(case_with(SEEN, 500)).factor == 1.0
    own = weighed(case_with(SEEN | {"ring": "dead"}, 500, own=900))
    assert (own.is_unsellable, own.lowered, own.hard) == (False, False, False)


def test_nothing_is_decided_and_no_chance_is_told_without_a_worth() -> None:
    known = weighed(case_with(SEEN, 500), shop=shop_of())
    assert (known.worth, known.sums, known.limits, known.worlds) == (None, None, None, None)
    assert (known.factor, known.hard) == (1.0, False)
    facts = {one.fact for one in decided(case_with(SEEN, 500), shop=shop_of()).because}
    assert Fact.NO_VALUE in facts
    assert not facts & {Fact.READY, Fact.NO_SHOP, Fact.CHANCE, Fact.MUCH_WORK, Fact.NOTHING_LEFT}
