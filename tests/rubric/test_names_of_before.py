"""Every id of before in our own list is read as one of today."""

import pytest

from evaluator.assessment.observing.case import read_case
from evaluator.rubric.files.load import load_rubric
from evaluator.store.folders import rubrics_folder

VIOLIN, _ = load_rubric(rubrics_folder(), "violin")


@pytest.mark.parametrize(
    ("given", "check", "outcome"),
    [
        ({"fiddle_bridge": "round"}, "bridge_arch", "round"),
        ({"fingerboard_radius": "60 mm"}, "fingerboard_camber", "flat_or_lopsided"),
        ({"fingerboard_radius": {"reading": "42 mm", "tool": "radius_gauge"}}, "fingerboard_camber", "even"),
        ({"soundpost_behind_foot": {"reading": "2.5 mm", "tool": "steel_rule"}}, "soundpost_position", "behind_foot"),
        ({"soundpost_behind_foot": "-3 mm"}, "soundpost_position", "under_foot"),
    ],
)
def test_an_answer_of_before_is_read(given: dict[str, object], check: str, outcome: str) -> None:
    assert VIOLIN is not None
    case, problems = read_case(VIOLIN, {"format": 1, "rubric": "violin", "observations": given})
    assert case is not None, problems
    assert [one.outcome for one in case.observations[check]] == [outcome]


def test_every_name_of_before_leads_to_an_outcome_of_today() -> None:
    assert VIOLIN is not None
    assert VIOLIN.renamed
    for entry in VIOLIN.renamed.values():
        assert entry.now in VIOLIN.checks and entry.was not in VIOLIN.checks
        assert set(entry.outcomes.values()) <= set(VIOLIN.checks[entry.now].outcomes)
