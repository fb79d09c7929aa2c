"""What was seen as reasons: what stops it first, each check once, the weightiest first, with its share."""

from dataclasses import replace

import pytest

from evaluator.assessment.model import Making, Sign
from evaluator.valuation.deciding.because import NAMED, not_known_facts, seen_facts
from evaluator.valuation.deciding.stops import STOPS_FROM, StopSign, believed, likely_stop
from evaluator.valuation.model import Because, Fact
from tests.valuation.made import FACTORY, RUBRIC, SEEN, case_with, weighed

MAY = RUBRIC.figure("may_stop")


def facts(seen: dict[str, str], *signs: Sign) -> list[Because]:
    one = weighed(case_with(SEEN | seen))
    assessment = replace(one.assessment, making=Making(FACTORY, signs, 1))
    return list(seen_facts(RUBRIC, one.case, assessment, one.answers, one.stopped, one.ready.reading))


def of(found: list[Because], fact: Fact) -> list[tuple[str | None, float | None]]:
    return [(one.check, one.share) for one in found if one.fact is fact]


def stop(probability: float, *, seen: bool = False, always: bool = False) -> StopSign:
    return StopSign("owner", "evasive", "Says nothing", probability, always, seen)


def test_what_lasts_is_told_with_what_it_leaves() -> None:
    """A mended wing leaves 0.94 of factory work."""
    found = facts({"wing": "mended"})
    assert of(found, Fact.LASTS) == [("wing", pytest.approx(0.94))]
    assert of(facts({}), Fact.LASTS) == []


def test_what_stops_it_is_told_once_and_first() -> None:
    found = facts({"post_crack": "patched", "wing": "mended"})
    assert (found[0].fact, found[0].check, found[0].outcome) == (Fact.STOPS, "post_crack", "patched")
    assert [one.check for one in found].count("post_crack") == 1
    assert of(found, Fact.LASTS) == [("wing", pytest.approx(0.94))]


def test_whatever_the_price_is_sure_and_a_price_may_be_found_for_the_rest() -> None:
    assert of(facts({"owner": "evasive"}), Fact.STOPS) == [("owner", 1.0)]


def test_signs_that_speak_for_the_class_are_named_but_for_what_was_told() -> None:
    signs = (
        Sign("post_crack", "patched", "hand", 2.0),
        Sign("edge", "plain", "hand", 1.0),
        Sign("ring", "dead", "hand", 0.0),
        Sign("wing", "mended", "hand", -1.0),
    )
    found = facts({"post_crack": "patched"}, *signs)
    (made,) = [one for one in found if one.fact is Fact.MADE]
    assert (made.class_, made.share) == ("factory", 1.0)
    assert [one.check for one in found if one.fact is Fact.SIGN] == ["edge"]
    twice = facts({"wing": "mended"}, Sign("wing", "mended", "hand", 2.0))
    assert [one.fact for one in twice if one.check == "wing"] == [Fact.SIGN], "not told again as what lasts"
    assert not [one for one in facts({}) if one.fact in (Fact.MADE, Fact.SIGN)], "without signs nothing is said of it"


def test_what_is_good_is_named_the_weightiest_first_and_never_papers() -> None:
    found = facts({"seller": "shop", "ring": "rings"})
    assert 0 < len(of(found, Fact.GOOD)) <= NAMED
    assert not {"owner", "seller"} & {check for check, _ in of(found, Fact.GOOD)}
    assert of(found, Fact.FAULT) == []
    assert of(facts({"ring": "dead"}), Fact.FAULT) == [("ring", None)]


def test_what_may_stop_it_is_what_nobody_has_seen_for_sure() -> None:
    seen = stop(0.9, seen=True)
    assert likely_stop((stop(MAY),), (), RUBRIC) and not likely_stop((stop(MAY - 0.01),), (), RUBRIC)
    assert not likely_stop((seen,), (seen,), RUBRIC), "what stops it already is no danger besides"
    assert likely_stop((seen, stop(MAY)), (seen,), RUBRIC)
    assert not likely_stop((), (), RUBRIC)


def test_only_what_was_seen_and_is_likelier_than_not_stops_it() -> None:
    sure, unsure, unseen = stop(STOPS_FROM, seen=True), stop(STOPS_FROM - 0.01, seen=True), stop(0.9)
    assert believed((sure, unsure, unseen)) == (sure,)


def test_what_is_not_known_yet_is_told_with_how_little_was_seen() -> None:
    seen, may = stop(0.9, seen=True), stop(0.3)
    found = list(not_known_facts((seen, may, stop(0.2)), (seen,), 0.1, 0.2))
    assert [(one.fact, one.share) for one in found] == [(Fact.BARELY_SEEN, 0.1), (Fact.MAY_STOP, 0.3)]
    assert list(not_known_facts((seen,), (seen,), 0.2, 0.2)) == [], "as much as is asked is enough"
    assert list(not_known_facts((stop(0.001),), (), 0.9, 0.2)) == []
