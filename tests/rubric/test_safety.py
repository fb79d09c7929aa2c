"""Nothing that can hurt an instrument is asked without its wait and its caution, in any family."""

import pytest

from evaluator.rubric.files.load import family_names
from evaluator.rubric.files.waits import stopping
from evaluator.rubric.rubric import Rubric
from evaluator.rubric.sense.looks import strain_in
from evaluator.store.folders import rubrics_folder
from tests.known import shipped

ROOT = rubrics_folder()
RUBRICS = {name: shipped(name) for name in family_names(ROOT)}
FAMILIES = tuple(RUBRICS)
STRUNG = ("violin", "viola", "cello")


def rubric_of(name: str) -> Rubric:
    found = RUBRICS[name]
    assert found is not None
    return found


@pytest.mark.parametrize(
    ("line", "verb"),
    [
        ("Tune each string down and up.", "tune"),
        ("Look at it, then press the wall lightly.", "press"),
        ("Bow each string alone near the bridge.", "bow"),
        ("With the hair slack, bend it a little.", "bend"),
        ("Draw the pin out, lock it, and lean on the cello.", "lean"),
        ("Loosen the thickest string a little.", "loosen"),
        ("Let all the strings down.", "let"),
        ("Turn the button until the hair is tight.", "turn"),
        ("Turn each screw a little both ways.", "turn"),
        ("Do not press it to see whether it opens.", None),
        ("Nobody should press a probe into the wood.", None),
        ("Look along the stick, the bow in the other hand.", None),
        ("Hold it as for playing.", None),
        ("A pressed arch has no channel.", None),
    ],
)
def test_a_line_that_strains_is_known_by_its_verb(line: str, verb: str | None) -> None:
    assert strain_in(line) == verb


@pytest.mark.parametrize("name", FAMILIES)
def test_every_look_that_strains_waits_and_warns(name: str) -> None:
    rubric = rubric_of(name)
    straining = [check for check in rubric.checks.values() if any(map(strain_in, check.how))]
    assert len(straining) >= 4
    for check in straining:
        assert check.postponed_by or check.check in rubric.safety_checks, check.check
        assert rubric.caution_texts(check), check.check


@pytest.mark.parametrize("name", FAMILIES)
def test_what_is_done_under_tension_waits_for_every_stop(name: str) -> None:
    rubric = rubric_of(name)
    stops = stopping(rubric.checks)
    assert len(stops) >= 5
    for check in rubric.checks.values():
        if check.under_tension:
            assert {one for one in stops if one.partition(".")[0] != check.check} <= set(check.postponed_by)


@pytest.mark.parametrize("name", STRUNG)
@pytest.mark.parametrize(
    "check",
    ["peg_function", "nut_height", "bridge_notches", "bridge_arch", "action_feel", "action_low", "action_high"],
)
def test_nobody_tunes_before_it_is_safe(name: str, check: str) -> None:
    waits = rubric_of(name).checks[check].postponed_by
    for stop in (
        "soundpost_standing.fallen", "soundpost_standing.missing", "bridge_stance.down", "bridge_stance.leaning",
        "neck_heel_joint.moves", "neck_break_repair.open", "button_integrity.broken", "pegbox_crack.split",
        "tailgut.frayed", "soundpost_crack_top.open_short", "top_crack.one_open", "bass_bar_crack.open",
    ):  # fmt: skip
        assert stop in waits


@pytest.mark.parametrize(
    "check",
    ["bow_straightness", "bow_camber", "bow_hair_width", "bow_screw_eyelet", "bow_playing_qualities", "bow_fit"],
)
def test_nobody_tightens_a_bow_before_it_is_safe(check: str) -> None:
    waits = rubric_of("bow").checks[check].postponed_by
    for stop in (
        "bow_head_crack.hairline", "bow_head_crack.broken_off", "bow_stick_crack.crack", "bow_handle_wear.cracked",
        "bow_hair.too_short",
    ):  # fmt: skip
        assert stop in waits


@pytest.mark.parametrize("name", FAMILIES)
def test_nobody_presses_a_crack(name: str) -> None:
    rubric = rubric_of(name)
    about_cracks = [check for check in rubric.checks.values() if "crack" in f"{check.check} {check.term or ''}"]
    assert about_cracks
    for check in about_cracks:
        assert not any(map(strain_in, check.how)), check.check


@pytest.mark.parametrize("name", STRUNG)
def test_every_slackening_says_how(name: str) -> None:
    rubric = rubric_of(name)
    told = 0
    for check in rubric.checks.values():
        if any("slacken" in (outcome.means or "") for outcome in check.outcomes.values()):
            assert "slacken" in check.cautions, check.check
            told += 1
    assert told >= 10
    words = rubric.cautions["slacken"].say
    assert all(one in words for one in ("each of the four", "round again", "cloth under", "keep it standing", "flat"))


@pytest.mark.parametrize("name", FAMILIES)
def test_the_first_page_can_be_looked_at_by_anybody_without_straining(name: str) -> None:
    rubric = rubric_of(name)
    assert rubric.safety is not None
    assert rubric.safety_checks == rubric.safety.checks
    for one in rubric.safety_checks:
        assert rubric.checks[one].who == "student"
        assert not rubric.checks[one].under_tension
    assert next(iter(rubric.pages)) == "safety"
    assert sum(rubric.checks[one].minutes for one in rubric.safety_checks) <= 6
