"""A workshop's own opinions over a rubric, and what is said of them in words."""

from pathlib import Path

import pytest

from evaluator.rubric.diff import differences
from evaluator.rubric.files.load import load_rubric
from evaluator.rubric.rubric import Rubric
from evaluator.rubric.sense.check import check_path
from evaluator.rubric.show import show, whose
from tests.rubric.small import write_rubrics

FIDDLE = """\
extends: violin
title: Fiddle workshop
by: The Hilltop Workshop
version: "2"
drop: [tuners]
change:
  bridge_feet: {weight: {student: 4, intermediate: 1, professional: 1}, outcomes: {gaps: {class: acceptable}}}
  bridge_new: {hours: {low: 1, likely: 1.3, high: 2.2}}
  blank: {prices: {violin: {good: {low: 5, likely: 6, high: 7}}}}
standards:
  - standard: weight
    say: Weight
    unit: g
    rows:
      - {family: violin, size: [4/4], style: fiddle, high: 480, confidence: medium, sources: [common]}
      - {family: violin, size: [3/4], high: 410, confidence: low, sources: [memory]}
domain_shares:
  student: {playability: 0.8, workmanship: 0.2}
checks:
  - check: drone
    part: bridge
    ask: Do two strings sound together easily?
    how: [Play the two middle strings.]
    evidence_of: {playability: 2}
    outcomes:
      easy: {say: Easily, class: sound}
      hard: {say: Only with force, class: acceptable}
    sources: [common]
"""


def overlaid(tmp_path: Path, text: str) -> tuple[Rubric, Rubric]:
    root = write_rubrics(tmp_path)
    overlay = tmp_path / "mine.yaml"
    overlay.write_text(text, encoding="utf-8")
    before, _ = load_rubric(root, "violin")
    after, problems = load_rubric(root, "violin", [overlay])
    assert [str(one) for one in problems] == []
    assert before is not None
    assert after is not None
    return before, after


def test_add_change_drop_and_whose_opinion(tmp_path: Path) -> None:
    before, after = overlaid(tmp_path, FIDDLE)
    check = after.checks["bridge_feet"]
    assert check.weight_at("student", "classical") == 4
    assert check.outcomes["gaps"].class_ == "acceptable"
    assert check.outcomes["gaps"].cured_by == ("bridge_new",)
    assert check.ask == before.checks["bridge_feet"].ask
    assert "tuners" not in after.checks
    assert "drone" in after.checks
    assert after.domain_shares["student"] == {"playability": 0.8, "workmanship": 0.2}
    assert after.domain_shares["professional"] == before.domain_shares["professional"]
    assert set(after.opinion_of) == {"bridge_feet", "bridge_new", "blank", "weight", "drone"}
    assert whose(after, "bridge_feet") == "The Hilltop Workshop"
    assert whose(after, "purfling") == "the rubric Violin, version 1 + Fiddle workshop 2"
    assert before.hash != after.hash


def test_rows_of_an_overlay_come_before_the_table_s_own(tmp_path: Path) -> None:
    _, after = overlaid(tmp_path, FIDDLE)
    check = after.checks["weight"]
    fiddle, classical = after.limits(check, "4/4", "fiddle"), after.limits(check, "4/4", "classical")
    assert fiddle is not None
    assert classical is not None
    assert (fiddle.high, classical.high) == (480, 430)
    assert len(after.standards["weight"].rows) == 3  # the row for 3/4 is replaced


def test_the_difference_in_words(tmp_path: Path) -> None:
    assert differences(*overlaid(tmp_path, FIDDLE)) == (
        "For students, playability makes 80 % of the score, no longer 50 %.",
        "For students, workmanship makes 20 % of the score, no longer 50 %.",
        "The check tuners is dropped.",
        "The check bridge_feet (The Hilltop Workshop): weight for student is 4, no longer 1.",
        "The check bridge_feet (The Hilltop Workshop): class of the outcome gaps is acceptable, no longer fault.",
        "The check drone is new (The Hilltop Workshop): Do two strings sound together easily?.",
        "The job bridge_new (The Hilltop Workshop): hours is 1 / 1.3 / 2.2, no longer 0.8 / 1.3 / 2.2.",
        "The part price blank (The Hilltop Workshop): prices for violin for good is 5 / 6 / 7, no longer 8 / 14 / 25.",
        "The standard weight has a row for violin 4/4, fiddle (The Hilltop Workshop): up to 480 g.",
        "The standard weight for violin 3/4 (The Hilltop Workshop): up to 410 g, no longer up to 400 g, best 370 g.",
    )


def test_no_difference_is_no_sentence(tmp_path: Path) -> None:
    before, _ = load_rubric(write_rubrics(tmp_path), "violin")
    assert before is not None
    assert differences(before, before) == ()


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("drop: [tuners]", "{file}:1:1 the file does not say which rubric it extends. Begin with a line like extends: "
         "violin."),
        ("extends: violn", '{file}:1:10 there is no rubric "violn" to extend. Did you mean "violin"?'),
        ("extends: violin\nchecks:\n  - {check: purfling, part: whole, ask: Is it inlaid?}",
         '{file}:3:5 check "purfling": the check "purfling" is in the rubric already. Write what differs under '
         "change:, or drop it first."),
        ("extends: violin\nchange:\n  purfling: {outcomes: {painted: {clas: sound}}}",
         '{file}:3:35 change of "purfling", outcome "painted": unknown key "clas". Did you mean "class"?'),
        ("extends: violin\nchange:\n  purfling: {minutes: long}",
         '{file}:3:23 change of "purfling": "long" is not a number. Write a plain number, for example 1.5.'),
        ("extends: violin\nchange:\n  purfling: {outcomes: {new: {say: New}}}",
         '{file}:3:30 change of "purfling", outcome "new": the key "class" is missing. Write class: and what belongs '
         "there."),
        ("extends: violin\nchange:\n  purfling: {cause: hurri}",
         '{file}:3:21 check "purfling": there is no cause "hurri". Use one of the causes, or add it. Did you mean '
         '"hurry"?'),
        ("extends: violin\ndrop: [bridge_feet]",
         'rubrics/families/violin.yaml:95:18 check "tuners": the formula reads "bridge_feet", which is neither a check '
         "nor a fact of the instrument. Look at the ids of the checks."),
    ],
)  # fmt: skip
def test_mistakes_of_an_overlay(text: str, told: str, tmp_path: Path) -> None:
    overlay = tmp_path / "mine.yaml"
    overlay.write_text(text + "\n", encoding="utf-8")
    _, problems = load_rubric(write_rubrics(tmp_path), "violin", [overlay])
    assert [str(one) for one in problems] == [told.replace("{file}", str(overlay))]


def test_an_overlay_for_several_rubrics_is_passed_over_by_the_others(tmp_path: Path) -> None:
    root = write_rubrics(tmp_path)
    (root / "families" / "viola.yaml").write_text(
        (root / "families" / "violin.yaml").read_text(encoding="utf-8").replace("rubric: violin", "rubric: viola"),
        encoding="utf-8",
    )
    overlay = tmp_path / "mine.yaml"
    overlay.write_text("extends: [viola]\ndrop: [purfling]\n", encoding="utf-8")
    violin, _ = load_rubric(root, "violin", [overlay])
    viola, _ = load_rubric(root, "viola", [overlay])
    plain, _ = load_rubric(root, "violin")
    assert violin is not None
    assert viola is not None
    assert plain is not None
    assert "purfling" in violin.checks
    assert "purfling" not in viola.checks
    assert violin.hash == plain.hash


def test_sense_is_asked_of_the_changed_rubric(tmp_path: Path) -> None:
    root = write_rubrics(tmp_path)
    overlay = tmp_path / "mine.yaml"
    overlay.write_text("extends: violin\nchange:\n  bridge_feet: {outcomes: {gaps: {worth: 0.9}}}\n", encoding="utf-8")
    told = check_path(overlay, root)
    assert [(one.code, one.where) for one in told.problems] == [
        ("check.worth_order", 'check "bridge_feet", outcome "nearly"')
    ]


def test_a_check_and_a_job_read_like_a_page(tmp_path: Path) -> None:
    _, after = overlaid(tmp_path, FIDDLE)
    page = show(after, "bridge_feet")
    assert isinstance(page, str)
    assert "Do the feet of the bridge touch the top everywhere?" in page
    assert "opinion of The Hilltop Workshop" in page
    assert "Light under a foot (gaps): acceptable, worth 0.3. Cured by: Fit a new bridge." in page
    job = show(after, "bridge_new")
    assert isinstance(job, str)
    assert "Hours: 1 to 2.2 h, most often 1.3" in job
    assert "Adjust the soundpost, in 90 of 100 cases: always" in job
    assert all(len(line) <= 100 for line in (page + job).splitlines())
    weight = show(after, "weight")
    assert isinstance(weight, str)
    assert "violin 4/4, fiddle: up to 480 g (common practice, no source; confidence medium)" in weight
    assert str(show(after, "bridge_nwe")) == (
        'there is no check or job "bridge_nwe" in the rubric "violin". Did you mean "bridge_new"?'
    )
