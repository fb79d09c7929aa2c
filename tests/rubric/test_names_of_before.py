"""Every id of before in our own list is read as one of today."""

import pytest

from evaluator.assessment.observing.case import read_case
from evaluator.rubric.files.load import load_rubric
from evaluator.store.folders import rubrics_folder

VIOLIN, _ = load_rubric(rubrics_folder(), "violin")
BOW, _ = load_rubric(rubrics_folder(), "bow")


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
