"""Every id of before in our own list is read as one of today."""

import json
from pathlib import Path
from typing import Any

import pytest
import yaml

from evaluator.assessment.observing.case import read_case
from evaluator.rubric.files.load import load_rubric
from evaluator.rubric.sense.check import check_path
from evaluator.store.folders import rubrics_folder
from tests.known import shipped

VIOLIN = shipped("violin")
BOW = shipped("bow")


@pytest.mark.parametrize(
    ("given", "check", "outcome"),
    [
        ({"fiddle_bridge": "round"}, "bridge_arch", "round"),
        ({"fingerboard_radius": "60 mm"}, "fingerboard_camber", "flat_or_lopsided"),
        ({"fingerboard_radius": {"reading": "42 mm", "tool": "radius_gauge"}}, "fingerboard_camber", "even"),
        ({"soundpost_behind_foot": {"reading": "2.5 mm", "tool": "steel_rule"}}, "soundpost_position", "behind_foot"),
        ({"soundpost_behind_foot": "-3 mm"}, "soundpost_position", "under_foot"),
        ({"fingerboard_scoop": {"reading": "0.1 mm", "tool": "feeler_gauge"}}, "fingerboard_hollow", "flat"),
        ({"fingerboard_end_thickness": "7 mm"}, "fingerboard_end", "blunt"),
        ({"bridge_thickness_feet": "4.4 mm"}, "bridge_thickness", "tapers"),
        ({"scroll_originality": "plastic"}, "scroll_carving", "crude"),
        ({"scroll_originality": "belongs"}, "scroll_originality", "belongs"),
    ],
)
def test_an_answer_of_before_is_read(given: dict[str, object], check: str, outcome: str) -> None:
    assert VIOLIN is not None
    case, problems = read_case(VIOLIN, {"format": 1, "rubric": "violin", "observations": given})
    assert case is not None, problems
    assert [one.outcome for one in case.observations[check]] == [outcome]


@pytest.mark.parametrize(
    ("said", "today"),
    [
        ("good", {"bow_winding": "tight", "bow_leather": "good"}),
        ("worn", {"bow_winding": "loose"}),
        ("missing", {"bow_leather": "missing"}),
        ("whalebone", {"bow_winding": "whalebone"}),
    ],
)
def test_the_grip_of_a_bow_is_read_as_leather_and_winding(said: str, today: dict[str, str]) -> None:
    assert BOW is not None
    case, problems = read_case(BOW, {"format": 1, "rubric": "bow", "observations": {"bow_grip": said}})
    assert case is not None, problems
    assert {name: seen[0].outcome for name, seen in case.observations.items()} == today


@pytest.mark.parametrize("turned", [False, True])
def test_of_two_that_are_one_check_now_the_answer_of_today_stands_first(turned: bool) -> None:
    assert VIOLIN is not None
    given = [("soundpost_behind_foot", "-3 mm"), ("soundpost_position", "far_back")]
    answers = dict(reversed(given) if turned else given)
    case, problems = read_case(VIOLIN, {"format": 1, "rubric": "violin", "observations": answers})
    assert case is not None, problems
    assert [one.outcome for one in case.observations["soundpost_position"]] == ["far_back", "under_foot"]


def test_every_name_of_before_leads_to_an_outcome_of_today() -> None:
    assert VIOLIN is not None and BOW is not None
    for rubric in (VIOLIN, BOW):
        assert rubric.renamed
        for entry in rubric.renamed.values():
            for outcome in entry.outcomes:
                for name, said in entry.all_today(outcome):
                    assert said in rubric.checks[name or entry.was].outcomes


@pytest.mark.parametrize("was", ["soundpost_diameter", "top_thickness", "upper_bout", "nut_width"])
def test_what_nobody_asks_any_more_hinders_nothing(was: str) -> None:
    assert VIOLIN is not None
    answers = {was: {"reading": "6 mm" if was == "soundpost_diameter" else "30 mm"}, "purfling": "inlaid"}
    if was == "top_thickness":
        answers[was] = {"reading": "3 mm", "tool": "thickness_gauge"}
    case, problems = read_case(VIOLIN, {"format": 1, "rubric": "violin", "observations": answers})
    assert case is not None, problems
    assert set(case.observations) == {"purfling"}


BEFORE: dict[str, dict[str, dict[Any, str]]] = yaml.safe_load(
    (Path(__file__).parent / "before" / "outcomes.yaml").read_text(encoding="utf-8")
)
KEPT = sorted((Path(__file__).parent.parent / "result" / "kept").glob("*.json"))
GONE = {"upper_bout", "middle_bout", "nut_width", "soundpost_diameter", "top_thickness", "back_thickness"}
# What was weighed anew, each with its row in the record of decisions; all else is of the class that it was of.
WEIGHED_ANEW = {
    "body_stop.too_low", "body_stop.too_high", "neck_stop.too_low", "string_length.too_low", "string_length.too_high",
    "fingerboard_edge.too_low", "fine_tuners.four", "bass_bar_type.carved_in_old", "bow_camber.reversed",
    "bow_head_crack.hairline", "fiddle_bridge.between", "fiddle_bridge.round",
    "fingerboard_end_thickness.too_low", "bridge_thickness_feet.too_low",
}  # fmt: skip


@pytest.mark.parametrize("family", BEFORE)
def test_every_answer_that_could_be_given_before_means_the_same(family: str) -> None:
    """The class of the outcome, as the rubric writes it for a fiddler where only fiddlers were asked."""
    rubric = shipped(family)
    read, gone, anew = 0, set(), set()
    for name, outcomes in BEFORE[family].items():
        for outcome, class_ in outcomes.items():
            answers = {name: {"outcome": str(outcome).lower() if isinstance(outcome, bool) else outcome}}
            case, problems = read_case(rubric, {"format": 1, "rubric": family, "observations": answers})
            assert case is not None, (name, outcome, problems)
            gone |= set(case.no_longer_asked)
            for today, (seen, *_) in case.observations.items():
                now = rubric.checks[today].outcomes[seen.outcome or ""]
                read += 1
                same = class_ in (now.class_, now.class_at("student", "fiddle") if name == "fiddle_bridge" else "")
                anew |= set() if same else {f"{name}.{outcome}"}
    assert gone <= GONE
    assert anew <= WEIGHED_ANEW
    assert read > (600 if family == "violin" else 0)


@pytest.mark.parametrize(
    "path", sorted((Path(__file__).parent / "before").glob("[!o]*.yaml")), ids=lambda path: path.stem
)
def test_an_evaluation_written_before_opens(path: Path) -> None:
    """With a tool that is no longer offered, and with checks that were merged."""
    content = yaml.safe_load(path.read_text(encoding="utf-8"))
    rubric = shipped(content["rubric"])
    case, problems = read_case(rubric, content)
    assert case is not None, problems
    kept = {one for one in content["observations"] if one in rubric.checks}
    assert kept <= set(case.observations)


@pytest.mark.parametrize("path", KEPT, ids=lambda path: path.stem)
def test_the_answers_of_every_kept_result_are_read(path: Path) -> None:
    kept = json.loads(path.read_text(encoding="utf-8"))
    name = kept["rubric"]["name"]
    rubric = shipped(name)
    answers = {
        check["check"]: {"outcome": answer["outcome"]}
        for check in kept["checks"]
        for answer in check["observations"]
        if answer["outcome"]
    }
    case, problems = read_case(rubric, {"format": 1, "rubric": name, "observations": answers})
    assert case is not None, problems
    assert {*case.observations, *case.no_longer_asked} >= {one for one in answers if one in rubric.checks}


def test_a_shops_overlay_on_what_was_merged_works_and_is_told(tmp_path: Path) -> None:
    own = tmp_path / "own.yaml"
    own.write_text(
        "extends: violin\nby: The Old Street Workshop\nchange:\n"
        "  fiddle_bridge:\n    outcomes: {round: {worth: 0.66}}\n"
        "  scroll_originality:\n    outcomes: {plastic: {means: \"We do not mend these.\"}}\n"
        "drop: [nut_width]\n",
        encoding="utf-8",
    )  # fmt: skip
    rubric, problems = load_rubric(rubrics_folder(), "violin", [own])
    assert rubric is not None, problems
    assert rubric.checks["bridge_arch"].outcomes["round"].worth == 0.66
    assert rubric.checks["scroll_carving"].outcomes["crude"].means == "We do not mend these."
    assert rubric.opinion_of["bridge_arch"] == rubric.opinion_of["scroll_carving"] == "The Old Street Workshop"
    told = [str(one) for one in check_path(own, rubrics_folder()).problems]
    assert ['write "bridge_arch"' in told[0], 'write "scroll_carving.crude"' in told[1], "nut_width" in told[2]] == [
        True
    ] * 3
    assert len(told) == 3


def test_a_shops_overlay_on_the_grip_of_a_bow_is_read_for_leather_and_winding(tmp_path: Path) -> None:
    own = tmp_path / "own.yaml"
    own.write_text(
        "extends: bow\nby: The Old Street Workshop\nchange:\n"
        "  bow_grip:\n    outcomes: {missing: {worth: 0.2}, worn: {worth: 0.6}}\n",
        encoding="utf-8",
    )
    rubric, problems = load_rubric(rubrics_folder(), "bow", [own])
    assert rubric is not None, problems
    assert rubric.checks["bow_leather"].outcomes["missing"].worth == 0.2
    assert rubric.checks["bow_winding"].outcomes["loose"].worth == 0.6
