"""The class of making on the real rubrics: what a luthier would say of a few signs, and the laws of every sign."""

from collections.abc import Mapping
from itertools import product

import pytest

from evaluator.assessment.believing.making import making_of
from evaluator.assessment.model import Making
from evaluator.assessment.observing.case import read_case
from evaluator.assessment.scoring.draws import assess
from evaluator.assessment.scoring.known import know
from evaluator.rubric.making import general_worth
from tests.known import shipped
from tests.laws import sampled

FAMILIES = ("violin", "viola", "cello", "bow")
CHEAP = {"purfling": "painted", "varnish_type": "thick_poly", "flame_real_or_painted": "painted"}
FINE = {
    "purfling_corners": "fine_point", "scroll_carving": "fine", "fhole_workmanship": "fine", "linings": "full",
    "interior_finish": "clean", "varnish_type": "oil_or_spirit", "varnish_application": "by_hand",
}  # fmt: skip
PLAIN = {"purfling": "inlaid_fibre", "scroll_carving": "plain", "interior_finish": "furry", "varnish_type": "nitro"}


def making(name: str, answers: Mapping[str, object], **keys: object) -> Making:
    case, problems = read_case(shipped(name), {"format": 1, "rubric": name, "observations": answers} | keys)
    assert case is not None, problems
    known = know(shipped(name), case)
    return making_of(tuple(shipped(name).classes), known.hand, known.told)


def climb(shares: Mapping[str, float]) -> list[float]:
    """Chance of each class or a better one, from the second on."""
    values = list(shares.values())
    return [sum(values[i:]) for i in range(1, len(values))]


@pytest.mark.parametrize("family", FAMILIES)
def test_nothing_seen_leaves_what_is_usual(family: str) -> None:
    found = making(family, {})
    usual = [one.prior[family] for one in shipped(family).classes.values()]
    assert list(found.shares.values()) == pytest.approx(usual)
    assert not found.signs
    assert found.groups_seen == 0


def test_three_cheap_signs_of_one_group_say_outfit_and_leave_a_doubt() -> None:
    found = making("violin", CHEAP)
    assert found.likeliest == "outfit"
    assert 0.6 < found.shares["outfit"] < 0.85
    assert found.groups_seen == 1


def test_a_second_group_tells_more_than_a_fourth_sign_of_the_first() -> None:
    first = making("violin", CHEAP).shares["outfit"]
    same = making("violin", CHEAP | {"fingerboard_material": "dyed_pale"}).shares["outfit"]
    other = making("violin", CHEAP | {"fhole_workmanship": "crude"}).shares["outfit"]
    assert other - first > 2 * (same - first) > 0


def test_a_fine_hand_says_fine_workshop_or_maker() -> None:
    shares = making("violin", FINE, looker="luthier").shares
    assert shares["maker"] + shares["fine_workshop"] > 0.8


def test_plain_honest_work_is_a_factorys() -> None:
    assert making("violin", PLAIN).likeliest == "factory"


def test_what_is_said_weighs_little() -> None:
    before = making("violin", {}).shares
    after = making("violin", {"label_claim": "claimed_genuine", "seller_type": "unknown_online"}).shares
    assert abs(before["outfit"] - after["outfit"]) < 0.12


def test_a_photo_tells_less_than_the_eye() -> None:
    near = making("violin", CHEAP).shares["outfit"]
    photo = making("violin", CHEAP, seen_by="photos").shares["outfit"]
    assert making("violin", {}).shares["outfit"] < photo < near


def test_rough_insides_tell_less_of_old_trade_work() -> None:
    rough = {"interior_finish": "rough", "corner_blocks": "none", "bass_bar_type": "carved_in_old"}
    new = making("violin", rough)
    old = making("violin", rough, instrument={"age": "over_100"})
    assert old.shares["outfit"] < 0.3 < new.shares["outfit"]


@pytest.mark.parametrize("keys", [{"instrument": {"tier": tier}} for tier in ("student", "professional")]
                         + [{"asking": {"amount": 50_000, "currency": "USD"}}])  # fmt: skip
def test_neither_tier_nor_price_moves_the_making(keys: dict[str, object]) -> None:
    assert making("violin", PLAIN | FINE, **keys) == making("violin", PLAIN | FINE)


@pytest.mark.parametrize(("base", "family"), sampled(list(product([{}, "worst", "best"], FAMILIES)), 3))
def test_a_worse_answer_never_speaks_for_a_better_class(base: object, family: str) -> None:
    judged = shipped(family)
    worths = {name: {key: general_worth(judged.checks[name], key) for key in table.logs}
              for name, table in judged.signs.items()}  # fmt: skip
    pick = {"worst": min, "best": max}.get(str(base))
    given = {name: pick(worth, key=worth.__getitem__) for name, worth in worths.items()} if pick else {}
    for name, worth in worths.items():
        # What only applies after some of these answers, as corners do to inlaid lines, is left out: it is another's.
        hangs = {other for other, formula in judged.relevant.items() if name in formula.names}
        others = {other: answer for other, answer in given.items() if other not in hangs}
        found = {key: climb(making(family, others | {name: key}).shares) for key in worth}
        for worse in worth:
            for better in worth:
                if worth[worse] < worth[better]:
                    assert all(low <= high + 1e-9 for low, high in zip(found[worse], found[better], strict=True)), (
                        name, worse, better)  # fmt: skip


def test_the_worlds_hold_the_classes_in_their_shares() -> None:
    case, _ = read_case(shipped("violin"), {"format": 1, "rubric": "violin", "observations": PLAIN})
    assert case is not None
    found = assess(shipped("violin"), case, draws=20_000)
    for index, share in enumerate(found.making.shares.values()):
        assert (found.worlds.making == index).mean() == pytest.approx(share, abs=0.015)


def test_an_unseen_sign_goes_by_the_class() -> None:
    """Of what looks like an outfit one expects a rough inside, of a fine hand a clean one; the worlds say the same."""
    for answers, low, high in ((CHEAP, 0.0, 0.2), (FINE, 0.6, 1.0)):
        without = {name: answer for name, answer in answers.items() if name != "interior_finish"}
        case, _ = read_case(shipped("violin"), {"format": 1, "rubric": "violin", "observations": without})
        assert case is not None
        found = assess(shipped("violin"), case, draws=20_000)
        clean = found.beliefs["interior_finish"].probability["clean"]
        assert low < clean < high
        assert found.worlds.has("interior_finish", 0).mean() == pytest.approx(clean, abs=0.015)


def test_signs_are_told_by_strength_and_side() -> None:
    found = making("violin", CHEAP | {"scroll_carving": "fine"})
    weights = [abs(sign.weight) for sign in found.signs]
    assert weights == sorted(weights, reverse=True)
    by_check = {sign.check: sign.weight for sign in found.signs}
    assert by_check["purfling"] > 0 > by_check["scroll_carving"]


def test_every_sign_is_a_check_of_making_in_one_group() -> None:
    for family in FAMILIES:
        known = know(shipped(family), read_case(shipped(family), {"format": 1, "rubric": family})[0])
        assert set(known.hand.grades) == {table.group for table in shipped(family).signs.values()}
