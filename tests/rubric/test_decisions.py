"""The record of decisions: no row is left open, and every check and job that it names is there or known by its name."""

import re

from evaluator.store.folders import rubrics_folder
from tests.papers.cases import rubric

DECIDED = ("taken", "otherwise", "refused", "dropped", "both said")
TEXT = (rubrics_folder() / "DECISIONS.md").read_text(encoding="utf-8")
GONE = {"purfling_inlay", "corner_blocks_fit"}  # jobs that were dropped
KEYS = {"leaves_as", "counts_old"}


def rows() -> list[list[str]]:
    lines = [line for line in TEXT.splitlines() if line.startswith("|") and not line.startswith("|---")]
    cells = [[cell.strip() for cell in line.strip("|").split("|")] for line in lines]
    return [one for one in cells if "decided" not in one]


def test_every_row_says_what_became_of_it() -> None:
    found = rows()
    undecided = [one for one in found if not any(cell.startswith(DECIDED) for cell in one[1:])]
    assert undecided == []
    assert len(found) > 280


def test_what_it_names_is_in_the_rubrics() -> None:
    known: set[str] = set()
    for name in ("violin", "viola", "cello", "bow"):
        ours = rubric(name)
        known |= {*ours.checks, *ours.jobs, *ours.renamed, *ours.shared_labour, *ours.standards, *ours.part_prices}
        known |= {was for job in ours.jobs.values() for was in job.was}
        known |= {outcome for check in ours.checks.values() for outcome in check.outcomes}
        known |= {*ours.cautions, *ours.classes}
    named = {part for text in re.findall(r"`([a-z0-9_.]+)`", TEXT) for part in text.split(".")}
    assert sorted(one for one in named if "_" in one and one not in known | GONE | KEYS) == []
