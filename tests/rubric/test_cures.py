"""Which job cures what in our rubrics, by rules of the trade that hold whatever the prices are."""

import pytest

from evaluator.rubric.written.checks import jobs_of
from tests.papers.cases import rubric

FAMILIES = ("violin", "viola", "cello")
# A tool takes wood away: what is too low, too flat or worn through is not cured by taking more.
TAKES_WOOD = {
    "bridge_recut": {
        "bridge_height.too_low", "bridge_radius.too_high", "bridge_arch.too_flat", "bridge_arch.flat_even",
        "action_low.too_low", "action_high.too_low", "action_feel.buzzing", "bridge_thickness_top.too_low",
        "bridge_carved.too_much_off", "bridge_thickness.paper_thin", "bridge_parchment.cut_in",
    },
    "nut_lower": {
        "nut_height.low", "nut_height.uneven", "nut_height_low.too_low", "nut_height_high.too_low", "nut_notches.worn",
    },
    "fingerboard_plane": {"fingerboard_edge.too_low", "fingerboard_end.too_thin"},
    "neck_reshape": {"neck_shape.too_thin"},
    "regraduate": {"plate_graduation.thin", "plate_graduation.thinned_later"},
}  # fmt: skip


@pytest.mark.parametrize("family", FAMILIES)
@pytest.mark.parametrize("job", TAKES_WOOD)
def test_no_job_that_takes_wood_away_cures_what_lacks_it(family: str, job: str) -> None:
    checks = rubric(family).checks
    met = 0
    for place in TAKES_WOOD[job]:
        check, outcome = place.split(".")
        if check in checks and outcome in checks[check].outcomes:
            met += 1
            assert job not in checks[check].outcomes[outcome].jobs, place
    assert met, "the places are those of our checks"


@pytest.mark.parametrize("family", FAMILIES)
def test_only_work_that_brings_strings_cures_strings(family: str) -> None:
    here = rubric(family)
    for check in here.checks.values():
        if check.check.startswith("string_") and check.part == "strings":
            for outcome in check.outcomes.values():
                for job in outcome.jobs:
                    assert any(part.part.startswith("string") for part in here.jobs[job].parts), (check.check, job)


@pytest.mark.parametrize("family", FAMILIES)
def test_what_was_glued_wrongly_is_cleaned_and_then_glued(family: str) -> None:
    ways = [
        jobs_of(cure)
        for check in rubric(family).checks.values()
        for outcome in check.outcomes.values()
        for cure in outcome.cured_by
    ]
    cleaned = [way for way in ways if "wrong_glue_clean" in way]
    assert len(cleaned) >= 5
    assert all(len(way) == 2 for way in cleaned)


@pytest.mark.parametrize(
    ("place", "jobs"),
    [
        ("back_crack.into_button", {"crack_back", "crack_button"}),
        ("bass_bar_crack.crack_and_sunk", {"crack_bass_bar", "arch_correct"}),
        ("edge_corner_wear.deep", {"edge_repair", "purfling_repair"}),
    ],
)
def test_what_needs_two_jobs_asks_for_both(place: str, jobs: set[str]) -> None:
    check, outcome = place.split(".")
    for family in FAMILIES:
        found = rubric(family).checks[check].outcomes[outcome]
        assert all(set(jobs_of(cure)) >= jobs for cure in found.cured_by)


@pytest.mark.parametrize("family", FAMILIES)
def test_a_job_for_several_says_what_a_further_one_costs(family: str) -> None:
    """What can be there several times is cured by a job with a price for a further one, or by one for all."""
    here = rubric(family)
    counted = {name for check in here.checks.values() if check.count for name in check.count.units_of}
    for name in counted:
        for outcome in here.checks[name].outcomes.values():
            if outcome.cured_by:
                jobs = [here.jobs[job] for job in outcome.jobs if job in here.jobs]
                assert any(job.further_unit is not None for job in jobs) or outcome.units == 1, (name, outcome.say)
