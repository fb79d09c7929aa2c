"""Quotes: totals that add up to the cent, answers and their effects, states, consent, work order."""

from dataclasses import replace
from datetime import date, datetime, timedelta, timezone
from decimal import Decimal
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from evaluator.assessment.model import Instrument
from evaluator.basis.money import Money, total_of
from evaluator.basis.problem import Problem
from evaluator.estimate.estimate import estimate
from evaluator.quoting.answers import all_yes, deposit, effect_of_no, standing, three_totals, totals, wrong_answers
from evaluator.quoting.consent import Chain, agree, beyond, first_altered, head
from evaluator.quoting.draft import make_quote
from evaluator.quoting.quote import MOVES, Quote, moved
from evaluator.quoting.work_order import noted, work_order
from tests.estimate.catalogues import random_catalogue
from tests.estimate.small import assessment_of, case_of, finding_of, job_of, rubric_of, shared_of, shop_of
from tests.laws import tried

ON = date(2026, 3, 2)
NOON = datetime(2026, 3, 5, 12, 0, tzinfo=timezone(timedelta(hours=1)))
RUBRIC = rubric_of(
    (
        job_of(
            "bridge_new",
            (0.8, 1.3, 2.2),
            say="Fit a new bridge",
            parts=[{"part": "blank"}],
            shares=["down"],
            after=["post_new"],
            if_left="The bridge may fall",
            forces=[
                {"job": "check", "chance": 1.0, "when": "always"},
                {"job": "nut", "chance": 0.3, "when": "if the nut is high"},
            ],
        ),
        job_of("post_new", (0.4, 0.6, 1.0), say="Fit a new post", shares=["down"]),
        job_of("check", (0.1, 0.2, 0.3), say="Check the post"),
        job_of("nut", (0.2, 0.4, 0.6), say="Lower the nut"),
        job_of("clean", (0.5, 0.8, 1.5), say="Clean it"),
    ),
    {"warp": ("bridge_new",), "post": ("post_new",), "dirt": ("clean",)},
    (shared_of("down", (0.25, 0.4, 0.7), say="Bridge and post down and up"),),
    {"blank": (14, 22, 35)},
)


def quote_of(**shop: Any) -> Quote:
    found = assessment_of(
        RUBRIC,
        finding_of(RUBRIC, "warp"),
        finding_of(RUBRIC, "post"),
        finding_of(RUBRIC, "dirt", required=False, urgency="cosmetic"),
        count=400,
    )
    keys = {"tax": {"labour": 0.0825, "parts": 0.07}} | shop
    made = make_quote(RUBRIC, shop_of(**keys), estimate(RUBRIC, case_of(RUBRIC), found, shop_of(**keys)), "Q-7", ON)
    assert isinstance(made, Quote)
    return made


def offered(**shop: Any) -> Quote:
    found = moved(quote_of(**shop), "offered")
    assert isinstance(found, Quote)
    return found


def jobs(quote: Quote, answers: Any) -> list[str]:
    return [line.job for line in standing(quote, answers)]


def test_lines_and_groups() -> None:
    quote = quote_of()
    assert [(line.job, line.group) for line in quote.lines] == [
        ("post_new", "required"),
        ("bridge_new", "required"),
        ("check", "required"),
        ("down", "required"),
        ("clean", "rest"),
    ]
    assert quote.valid_until == ON + timedelta(days=30)
    assert [one.job for one in quote.extras] == ["nut"]
    bridge = quote.line("bridge_new")
    assert bridge is not None
    assert bridge.parts_named == ("1 x blank (good)",)
    assert bridge.price == bridge.labour + bridge.parts == Money(Decimal("139.00"), "USD")


def adds_up(quote: Quote, answers: Any) -> Decimal:
    """The total, after checking that its figures add up to it and to its lines."""
    lines = standing(quote, answers)
    found = totals(quote, lines)
    whole = found.labour + found.parts + found.rush + found.minimum + found.tax + found.rounding
    assert whole == found.total
    assert total_of((line.price for line in lines), "USD") == found.labour + found.parts
    assert found.total <= found.up_to
    return found.total.amount


def test_invoice_to_the_cent() -> None:
    quote = quote_of()
    found = totals(quote, standing(quote, all_yes(quote)))
    parts = Decimal("22.83")
    assert found.parts.amount == parts
    assert found.parts_tax.amount == Decimal("1.60")
    assert found.labour_tax.amount == (found.labour.amount * Decimal("0.0825")).quantize(Decimal("0.01"))
    adds_up(quote, all_yes(quote))


@pytest.mark.parametrize(("rounding", "step"), [("cent", "0.01"), ("five_cents", "0.05"), ("whole", "1")])
def test_rounding_is_once_an_invoice(rounding: str, step: str) -> None:
    quote = quote_of(rounding=rounding)
    assert adds_up(quote, all_yes(quote)) % Decimal(step) == 0


def test_a_small_order_is_brought_to_the_minimum() -> None:
    quote = quote_of(minimum_charge=Decimal("60.00"), tax={"labour": 0.1})
    found = totals(quote, standing(quote, {"post_new": "no", "clean": "no", "bridge_new": "no"}))
    assert found.total.amount == 0
    small = quote_of(minimum_charge=Decimal("500.00"), tax={"labour": 0.1})
    alone = totals(small, standing(small, {"post_new": "yes"}))
    assert alone.labour + alone.minimum == Money(Decimal("500.00"), "USD")
    assert alone.total.amount == Decimal("550.00")


def test_haste_is_a_share_of_the_labour() -> None:
    found = assessment_of(RUBRIC, finding_of(RUBRIC, "warp"), count=400)
    shop = shop_of(rush_share=0.25)
    work = estimate(RUBRIC, case_of(RUBRIC), found, shop)
    calm, hasty = (make_quote(RUBRIC, shop, work, "Q", ON, in_haste=haste) for haste in (False, True))
    assert isinstance(calm, Quote)
    assert isinstance(hasty, Quote)
    adds_up(hasty, all_yes(hasty))
    totals_now = totals(hasty, standing(hasty, all_yes(hasty)))
    assert totals_now.rush == totals_now.labour.times(0.25).rounded()
    assert calm.ceiling < hasty.ceiling


def test_three_totals_rise() -> None:
    found = three_totals(quote_of())
    assert list(found) == ["required", "with_recommended", "everything"]
    assert found["required"].total == found["with_recommended"].total
    assert found["with_recommended"].total < found["everything"].total


def test_shared_labour_stays_while_a_line_needs_it() -> None:
    quote = quote_of()
    without_bridge = {**all_yes(quote), "bridge_new": "no"}
    assert jobs(quote, without_bridge) == ["post_new", "down", "clean"]
    assert jobs(quote, {**without_bridge, "post_new": "later"}) == ["clean"]


def test_labour_that_includes_another_is_charged_only_where_it_is_needed() -> None:
    """The bridge alone comes down to be cut; the post comes down too where the seam is glued, and all of it once."""
    rubric = rubric_of(
        (job_of("bridge_cut", shares=["bridge_down"]), job_of("seam_glue", shares=["all_down"])),
        {"high": ("bridge_cut",), "seam": ("seam_glue",)},
        (shared_of("bridge_down", (0.2, 0.3, 0.5)), shared_of("all_down", (0.5, 0.8, 1.2), includes=["bridge_down"])),
    )
    found = assessment_of(
        rubric, finding_of(rubric, "high"), finding_of(rubric, "seam", required=False, urgency="cosmetic"), count=400
    )
    quote = make_quote(rubric, shop_of(), estimate(rubric, case_of(rubric), found, shop_of()), "Q-8", ON)
    assert isinstance(quote, Quote)
    assert {line.job for line in quote.lines} == {"bridge_cut", "seam_glue", "bridge_down", "all_down"}
    assert jobs(quote, {"bridge_cut": "yes"}) == ["bridge_cut", "bridge_down"]
    assert jobs(quote, {"seam_glue": "yes"}) == ["seam_glue", "all_down"]
    assert set(jobs(quote, all_yes(quote))) == {"bridge_cut", "seam_glue", "all_down"}
    assert effect_of_no(quote, all_yes(quote), "seam_glue").saves.amount > 0


def test_the_effect_of_a_no_is_said() -> None:
    quote = quote_of()
    found = effect_of_no(quote, all_yes(quote), "bridge_new")
    assert found.falls == ("Check the post",)
    assert found.stays == (("Bridge and post down and up", ("Fit a new post",)),)
    assert found.say == (
        "Without “Fit a new bridge”, this falls away too: Check the post. The bridge may fall. "
        "“Bridge and post down and up” stays, for Fit a new post."
    )
    before = totals(quote, standing(quote, all_yes(quote))).total
    after = totals(quote, standing(quote, {**all_yes(quote), "bridge_new": "no"})).total
    assert found.saves == before - after


def test_labour_that_only_a_recommended_line_brings_is_not_in_the_required_total() -> None:
    """The large labour holds the small one, so both could serve the required line; it is charged the small one."""
    rubric = rubric_of(
        (
            job_of("nut", (0.2, 0.4, 0.6), say="Lower the nut", shares=["strings"]),
            job_of("post", (0.4, 0.6, 1.0), say="Fit a post", shares=["all_down"]),
        ),
        {"high": ("nut",), "dull": ("post",)},
        (
            shared_of("strings", (0.2, 0.3, 0.5), say="Strings down and up"),
            shared_of("all_down", (0.4, 0.7, 1.2), say="Strings, bridge and post down and up", includes=["strings"]),
        ),
    )
    found = assessment_of(
        rubric, finding_of(rubric, "high"), finding_of(rubric, "dull", required=False, urgency="recommended"), count=50
    )
    work = estimate(rubric, case_of(rubric), found, shop_of())
    quote = make_quote(rubric, shop_of(), work, "Q-1", ON)
    assert isinstance(quote, Quote)
    assert {line.job for line in quote.lines} == {"nut", "post", "strings", "all_down"}
    assert {line.job for line in standing(quote, {"nut": "yes"})} == {"nut", "strings"}
    assert {line.job for line in standing(quote, {"post": "yes"})} == {"post", "all_down"}
    assert {line.job for line in standing(quote, {"nut": "yes", "post": "yes"})} == {"nut", "post", "all_down"}


def test_a_no_to_what_a_line_cannot_do_without_takes_the_line_with_it() -> None:
    quote = quote_of()
    assert effect_of_no(quote, all_yes(quote), "check").falls == ("Fit a new bridge",)


@tried(40)
@given(st.integers(0, 5000), st.data())
def test_a_declined_line_never_raises_the_total(seed: int, data: st.DataObject) -> None:
    rubric, needs = random_catalogue(seed, 10, 6, 3)
    shop = shop_of(tax={"labour": 0.0825, "parts": 0.07}, minimum_charge=Decimal("120.00"), rounding="five_cents")
    found = assessment_of(rubric, *(finding_of(rubric, need.check) for need in needs), count=100)
    quote = make_quote(rubric, shop, estimate(rubric, case_of(rubric), found, shop), "Q", ON)
    if isinstance(quote, Problem):
        return
    asked = sorted(all_yes(quote))
    answers = {job: data.draw(st.sampled_from(("yes", "no", "later"))) for job in asked}
    declined = data.draw(st.sampled_from(asked))
    assert adds_up(quote, {**answers, declined: "no"}) <= adds_up(quote, answers)
    assert set(jobs(quote, {**answers, declined: "no"})) <= set(jobs(quote, answers))


@pytest.mark.parametrize("now", list(MOVES))
def test_states_move_only_forward(now: Any) -> None:
    quote = replace(quote_of(), state=now)
    for then in MOVES:
        found = moved(quote, then)
        if then in MOVES[now]:
            assert isinstance(found, Quote)
            assert found.state == then
            assert found.fingerprint() == quote.fingerprint()
        else:
            assert isinstance(found, Problem)
            assert str(found)


def test_the_fingerprint_is_of_the_content() -> None:
    quote = quote_of()
    assert quote.fingerprint() == quote_of().fingerprint() == offered().fingerprint()
    assert replace(quote, about="another violin").fingerprint() != quote.fingerprint()
    assert replace(quote, lines=quote.lines[:-1]).fingerprint() != quote.fingerprint()


def test_deposit_by_steps() -> None:
    quote = quote_of(deposits=[{"from_total": "200.00", "share": 0.25}, {"from_total": "500.00", "share": 0.5}])
    for total, due in (("199.99", "0.00"), ("200.00", "50.00"), ("499.98", "125.00"), ("800.00", "400.00")):
        assert deposit(quote, Money(Decimal(total), "USD")).amount == Decimal(due)


def test_nothing_to_quote_is_said() -> None:
    work = estimate(RUBRIC, case_of(RUBRIC), assessment_of(RUBRIC, count=100), shop_of())
    assert isinstance(make_quote(RUBRIC, shop_of(), work, "Q-9", ON), Problem)


def consent(quote: Quote, chain: Chain = (), **keys: Any) -> Any:
    base = {"seen": head(chain), "answers": all_yes(quote), "by": "A. Parent", "how": "link", "at": NOON}
    base |= {"ceiling": Money(Decimal("1000.00"), "USD")}
    return agree(chain, quote=quote, **(base | keys))


def test_consent_is_a_chain_that_shows_every_change() -> None:
    quote = offered()
    one = consent(quote)
    two = consent(quote, one, answers={**all_yes(quote), "clean": "no"}, how="spoken", noted_by="the shop")
    assert [len(one), len(two)] == [1, 2]
    assert first_altered(two) is None
    assert two[0].fingerprint == quote.fingerprint()
    for change in (
        {"by": "Somebody else"},
        {"at": NOON + timedelta(minutes=1)},
        {"answers": (("bridge_new", "no"),)},
        {"ceiling": Money(Decimal("2000.00"), "USD")},
    ):
        assert first_altered((replace(two[0], **change), two[1])) == 0
    assert first_altered((two[1],)) == 0
    assert first_altered((two[1], two[0])) == 0


@pytest.mark.parametrize(
    ("change", "code"),
    [
        ({"at": NOON + timedelta(days=60)}, "consent.expired"),
        ({"seen": "another"}, "consent.meanwhile"),
        ({"by": "  "}, "consent.name"),
        ({"by": "A\x00B"}, "text.sign"),
        ({"how": "spoken"}, "consent.noted_by"),
        ({"ceiling": Money(Decimal("10.00"), "USD")}, "consent.ceiling"),
        ({"answers": {"unknown": "yes"}}, "quote.unknown_line"),
        ({"answers": {"down": "no"}}, "quote.unknown_line"),
    ],
)
def test_bad_consent_changes_nothing_and_says_why(change: dict[str, Any], code: str) -> None:
    found = consent(offered(), **change)
    assert [one.code for one in found] == [code]
    assert str(found[0]).endswith(".")


@pytest.mark.parametrize("state", [state for state in MOVES if state != "offered"])
def test_only_an_offered_quote_can_be_answered(state: Any) -> None:
    found = consent(replace(quote_of(), state=state))
    assert found[0].code == "consent.not_offered"


def test_two_phones_at_once() -> None:
    quote = offered()
    seen = head(())
    first = consent(quote, (), seen=seen)
    second = consent(quote, first, seen=seen)
    assert second[0].code == "consent.meanwhile"


def test_work_beyond_the_ceiling_stops_and_asks() -> None:
    quote = offered()
    record = consent(quote, ceiling=totals(quote, standing(quote, all_yes(quote))).total)[0]
    found = beyond(quote, record, "nut")
    assert found is not None
    assert "second quote" in found.what_to_do
    assert beyond(quote, replace(record, ceiling=Money(Decimal("5000.00"), "USD")), "nut") is None


def test_wrong_answers_are_named() -> None:
    assert wrong_answers(quote_of(), all_yes(quote_of())) == ()
    assert "bridge" in str(wrong_answers(quote_of(), {"bridge": "yes"})[0])


def test_work_order_in_bench_order_with_what_was_not_agreed() -> None:
    quote = offered()
    order = work_order(RUBRIC, Instrument("4/4", "classical", "student"), quote, {**all_yes(quote), "clean": "later"})
    assert [task.job for task in order.tasks] == ["post_new", "bridge_new", "check"]
    assert order.shared == ("Bridge and post down and up",)
    assert order.not_agreed == ("Clean it",)
    assert not order.done
    for task in order.tasks:
        order = noted(order, task.job, 1.25)
    assert order.done


def test_work_order_names_the_standards_to_reach() -> None:
    height = {
        "check": "bridge_height",
        "part": "bridge",
        "ask": "How high is the bridge?",
        "term": "bridge height",
        "measure": {"quantity": "length", "unit": "mm"},
        "standard": {"target": 33.0, "low": 32.0, "high": 34.0},
        "outcomes": {
            "too_low": {"say": "Too low", "class": "fault", "cured_by": ["bridge_new"]},
            "meets": {"say": "Right", "class": "sound"},
        },
    }
    rubric = replace(rubric_of((), {}, checks=(height,)), jobs=RUBRIC.jobs)
    quote = offered()
    order = work_order(rubric, Instrument("4/4", "classical", "student"), quote, {"bridge_new": "yes", "check": "yes"})
    target = order.tasks[0].targets[0]
    assert (target.check, target.say, target.limits) == ("bridge_height", "bridge height", "32 to 34 mm, best 33 mm")
