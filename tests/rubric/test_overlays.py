"""Three workshops' opinions in files of under 25 lines: each changes what comes out in the direction that it says."""

from pathlib import Path

import pytest

from evaluator.assessment.observing.case import read_case
from evaluator.basis.document import parse_document
from evaluator.result.evaluation import Evaluation, evaluate
from evaluator.rubric.diff import differences
from evaluator.rubric.files.load import load_rubric
from evaluator.rubric.files.shop_file import load_shop
from evaluator.rubric.sense.check import check_path
from evaluator.store.folders import rubrics_folder
from tests.known import shipped

ROOT = rubrics_folder()
OVERLAYS = sorted((ROOT / "overlays").glob("*.yaml"))


def evaluated(example: str, family: str, *overlays: str, **answers: object) -> Evaluation:
    paths = [ROOT / "overlays" / f"{name}.yaml" for name in overlays]
    rubric, problems = load_rubric(ROOT, family, paths)
    assert rubric is not None, problems
    document, problems = parse_document((ROOT / "examples" / f"{example}.yaml").read_bytes(), example)
    assert document is not None, problems
    given = document.data["observations"]
    assert isinstance(given, dict)
    case, problems = read_case(rubric, {**document.data, "observations": {**given, **answers}}, document)
    assert case is not None, problems
    shop, _ = load_shop(ROOT / "shop.yaml")
    assert shop is not None
    return evaluate(rubric, case, shop)


@pytest.mark.parametrize("path", OVERLAYS, ids=lambda p: p.stem)
def test_an_overlay_is_short_and_without_mistakes(path: Path) -> None:
    assert len(path.read_text(encoding="utf-8").splitlines()) < 25
    assert check_path(path, ROOT).problems == ()


def test_a_fiddle_workshop_leaves_a_flat_bridge_as_it_is() -> None:
    before = evaluated("low_and_flat_played_classical", "violin")
    after = evaluated("low_and_flat_played_classical", "violin", "fiddle_workshop")
    needed = {finding.check for finding in before.assessment.findings if finding.required and finding.seen}
    assert needed == {"bridge_arch"}
    assert not any(finding.required and finding.seen for finding in after.assessment.findings)
    assert after.estimate.mean < before.estimate.mean


def test_a_school_workshop_does_not_hold_looks_against_a_violin() -> None:
    before = evaluated("student_violin_cut_corners", "violin")
    after = evaluated("student_violin_cut_corners", "violin", "school_workshop")
    named = {finding.check for finding in after.assessment.findings}
    assert "fingerboard_material" not in named
    assert any(finding.check == "fingerboard_material" for finding in before.assessment.findings)
    assert after.estimate.with_extras_mean <= before.estimate.with_extras_mean


def test_a_cello_specialist_walks_away_from_a_low_neck() -> None:
    low = {"reading": "74.5 mm", "tool": "steel_rule"}
    before = evaluated("cello_from_a_school", "cello", projection=low)
    after = evaluated("cello_from_a_school", "cello", "cello_specialist", projection=low)
    assert before.verdict.stopped_by == ()
    assert (after.verdict.advice, after.verdict.stopped_by) == ("walk_away", ("projection",))


def test_a_cello_specialist_mends_a_neck_that_is_a_little_low() -> None:
    """78 mm is raised or wedged, and stops nobody."""
    after = evaluated("cello_from_a_school", "cello", "cello_specialist")
    assert "projection" not in after.verdict.stopped_by


def test_a_school_workshop_seals_a_mend_and_takes_plain_parts() -> None:
    own = evaluated("student_violin_cut_corners", "violin")
    school = evaluated("student_violin_cut_corners", "violin", "school_workshop")
    assert {"retouch_repair", "retouch_close"} <= own.rubric.jobs.keys()
    assert not {"retouch_repair", "retouch_close"} & school.rubric.jobs.keys()
    assert {part.grade for part in school.rubric.jobs["strings_set"].parts} == {"plain"}


def test_the_difference_is_told_in_words_with_whose_opinion_it_is() -> None:
    before = shipped("cello")
    after, _ = load_rubric(ROOT, "cello", [ROOT / "overlays" / "cello_specialist.yaml"])
    assert before is not None
    assert after is not None
    told = differences(before, after)
    assert any("projection (Invented cello specialist)" in line and "disqualifying" in line for line in told)
    assert "The check top_wood_cut is dropped." in told
