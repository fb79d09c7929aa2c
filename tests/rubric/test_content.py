"""How much of the trade the rubrics hold, and how much of it is sure; prints the share of standards by confidence."""

from collections import Counter

import pytest

from evaluator.rubric.files.load import family_names
from evaluator.rubric.rubric import Rubric
from evaluator.store.folders import rubrics_folder
from tests.known import shipped

ROOT = rubrics_folder()


@pytest.fixture(scope="module")
def rubrics() -> dict[str, Rubric]:
    found = {}
    for name in family_names(ROOT):
        rubric = shipped(name)
        found[name] = rubric
    return found


def test_checks_and_jobs_are_many_enough(rubrics: dict[str, Rubric]) -> None:
    checks = {check for rubric in rubrics.values() for check in rubric.checks}
    jobs = {job for rubric in rubrics.values() for job in rubric.jobs}
    assert set(rubrics) == {"violin", "viola", "cello", "bow"}
    assert len(checks) >= 125
    assert len(rubrics["violin"].checks) >= 95
    assert len(jobs) >= 95


def test_every_kind_of_check_is_used(rubrics: dict[str, Rubric]) -> None:
    kinds = Counter(check.kind for rubric in rubrics.values() for check in rubric.checks.values())
    assert {"choice", "measure", "count", "derived"} <= set(kinds)


def test_every_standard_has_a_source_and_its_confidence(
    rubrics: dict[str, Rubric], capsys: pytest.CaptureFixture[str]
) -> None:
    shares: dict[str, Counter[str]] = {}
    for name, rubric in rubrics.items():
        rows = [row for table in rubric.standards.values() for row in table.rows if row.family == rubric.family]
        assert rows
        assert all(row.sources for row in rows)
        shares[name] = Counter(row.confidence for row in rows)
    with capsys.disabled():
        for name, found in shares.items():
            total = sum(found.values())
            told = ", ".join(f"{key} {found[key]} ({found[key] / total:.0%})" for key in ("high", "medium", "low"))
            print(f"\n{name}: {total} standards; {told}", end="")


def test_every_size_has_a_standard_of_its_own_kind(rubrics: dict[str, Rubric]) -> None:
    for rubric in rubrics.values():
        for size in rubric.sizes:
            found = [
                check
                for check in rubric.checks.values()
                if check.standard is not None and rubric.limits(check, size, "classical") is not None
            ]
            assert found, (rubric.name, size)


def test_every_check_says_how_to_look_and_every_job_what_is_done(rubrics: dict[str, Rubric]) -> None:
    for rubric in rubrics.values():
        assert all(check.how for check in rubric.checks.values() if check.kind != "derived")
        assert all(job.plain and (job.if_left or job.service) for job in rubric.jobs.values())


def test_an_outcome_can_be_read_behind_its_term(rubrics: dict[str, Rubric]) -> None:
    """'Curve of the bridge: even and round, each string alone is easy': one colon, and no sentence that ends in it."""
    for rubric in rubrics.values():
        for check in rubric.checks.values():
            for name, outcome in check.outcomes.items():
                assert ": " not in outcome.say, f"{check.check}.{name}"
                assert not outcome.say.endswith("."), f"{check.check}.{name}"


MISSED_BY_A_PARENT = (
    "halve the angle", "sawn off, collars", "A slight bow", "makes use of it", "Well flat", "let into the blocks\n",
    "taken a set", "corners were cut", "up to the wall",
)  # fmt: skip


def test_no_passage_that_a_parent_misses_is_back() -> None:
    """A violin has corners, and bow means two things: each of these was read aloud and not understood."""
    written = [path.read_text(encoding="utf-8") for path in (rubrics_folder() / "checks").glob("*.yaml")]
    assert [one for one in MISSED_BY_A_PARENT if any(one in text for text in written)] == []
