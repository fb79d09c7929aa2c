"""From files to a rubric or shop: all mistakes at once, none hides another, and what a family keeps of shared files."""

from pathlib import Path

import pytest

from evaluator.rubric.files.load import family_names, load_rubric, read_rubric
from evaluator.rubric.files.shop_file import load_shop
from evaluator.rubric.sense.check import check_path
from evaluator.store.folders import rubrics_folder
from tests.rubric.small import JOBS, SHOP, VIOLIN, write_rubrics

FIFTEEN = """\
rubric: violin
version: 1
title: Violin
family: violin
sizes: [4/4]
checks:
  - check: nut_height
    part: neck
    ask: How high is the nut?
    wieght: 2
    minutes: half
    seen_by: {photo: 0.5}
    measure: {quantity: length, unit: mm, tools: [ruler]}
    outcomes:
      meets: {say: Right, class: good}
  - check: Peg fit
    part: neck
    ask: ""
    outcomes:
      slips: {say: It slips, class: fault, cured_by: [peg_dress]}
  - check: scroll
    part: neck
    ask: Is it carved?
    outcomes:
      carved: {say: Carved, class: sound}
      broken: {say: Broken, class: fault, cured_by: [peg_dres]}
    relevant_if: style = "fiddle"
    worth: 3
jobs:
  - {job: peg_dress, say: Dress the pegs, plain: We make them turn., skill: setup, hours: {low: 1, likely: 2, high: 1}}
"""


def test_fifteen_mistakes_are_all_told(tmp_path: Path) -> None:
    root = write_rubrics(tmp_path, violin=FIFTEEN)
    rubric, problems = load_rubric(root, "violin")
    assert rubric is None
    assert [str(one).removeprefix("rubrics/families/violin.yaml:") for one in problems] == [
        '2:10 1 is not a text. Put it in quotes, for example "1".',
        '8:11 check "nut_height": there is no part "neck". Use a part of the family file.',
        '10:5 check "nut_height": unknown key "wieght". Did you mean "weight"?',
        '11:14 check "nut_height": "half" is not a number. Write a plain number, for example 1.5.',
        '12:15 check "nut_height": "photo" is not one of the choices. Use in_person, photos, '
        'seller_statement or recording. Did you mean "photos"?',
        '13:51 check "nut_height": there is no measuring tool "ruler". Use one of the tools, or add it.',
        '15:34 check "nut_height", outcome "meets": "good" is not one of the choices. Use sound, acceptable, '
        'fault or disqualifying.',
        '16:12 check "Peg fit": "Peg fit" cannot be a name. Begin with a small letter; use small letters, '
        'digits and _.',
        '18:10 check "Peg fit": the text is empty. Write a few words, or take the key away.',
        '22:11 check "scroll": there is no part "neck". Use a part of the family file.',
        '26:54 check "scroll": there is no job "peg_dres". Use one of the jobs, or add it. Did you mean '
        '"peg_dress"?',
        '27:24 check "scroll", relevant_if: a single = (letter 7) is not allowed in a formula. Use == to compare.',
        '28:5 check "scroll": unknown key "worth". Did you mean "worth_at"?',
        '30:77 job "peg_dress": "setup" is not one of the choices. Use set_up, repair or restoration. Did '
        'you mean "set_up"?',
        '30:91 job "peg_dress": low, likely and high are not in order. Write the smallest first.',
    ]  # fmt: skip


def test_a_broken_entry_is_not_missed_by_those_that_name_it(tmp_path: Path) -> None:
    root = write_rubrics(tmp_path, jobs=JOBS.replace("skill: set_up", "skill: carving", 1))
    _, problems = load_rubric(root, "violin")
    assert [one.code for one in problems] == ["shape.choice"]


def test_a_file_that_cannot_be_read_is_told_once(tmp_path: Path) -> None:
    root = write_rubrics(tmp_path, jobs="jobs: [1")
    _, problems = load_rubric(root, "violin")
    assert [str(one.place) for one in problems] == ["rubrics/jobs.yaml:1:7"]


@pytest.mark.parametrize(
    ("name", "told"),
    [
        ("violn", 'there is no rubric "violn". Did you mean "violin"?'),
        ("x", 'there is no rubric "x". There is violin.'),
    ],
)
def test_an_unknown_rubric(name: str, told: str, tmp_path: Path) -> None:
    root = write_rubrics(tmp_path)
    rubric, problems = load_rubric(root, name)
    assert rubric is None
    assert [str(one) for one in problems] == [f"{root} {told}"]


def test_the_hash_is_of_the_content_alone(tmp_path: Path) -> None:
    hashes = [
        read_rubric(write_rubrics(tmp_path / name, violin=violin), "violin").rubric
        for name, violin in (
            ("a", VIOLIN),
            ("b", "# a remark\n" + VIOLIN.replace("    minutes: 1\n", "    minutes:   1\n")),
            ("c", VIOLIN.replace("minutes: 1\n", "minutes: 2\n")),
        )
    ]
    first, remark, other = [found.hash if found else "" for found in hashes]
    assert len(first) == 64
    assert first == remark
    assert first != other


def test_shared_entries_of_other_families_are_left_out(tmp_path: Path) -> None:
    violin = VIOLIN.replace("cured_by: [bridge_new]", "cured_by: [endpin_fit, bridge_new]").replace(
        "    cause: hurry\n", "    cause: hurry\n    families: [viola, violin]\n"
    )
    violin += """\
drop: []
change: {}
"""
    jobs = JOBS + """\
  - job: endpin_fit
    say: Fit an endpin
    plain: We turn it.
    skill: set_up
    hours: {low: 1, likely: 1, high: 1}
    families: [cello]
"""  # fmt: skip
    jobs = jobs.replace("    if_left: The sound", "    after: [endpin_fit]\n    if_left: The sound")
    rubric, problems = load_rubric(write_rubrics(tmp_path, violin=violin, jobs=jobs), "violin")
    assert problems == ()
    assert rubric is not None
    assert "endpin_fit" not in rubric.jobs
    assert rubric.checks["bridge_feet"].outcomes["gaps"].cured_by == ("bridge_new",)
    assert rubric.jobs["post_adjust"].after == ()


def test_a_family_changes_and_drops_what_it_shares(tmp_path: Path) -> None:
    violin = VIOLIN + "drop: [tuners]\nchange: {bridge_feet: {minutes: 3, outcomes: {gaps: {worth: 0.1}}}}\n"
    rubric, problems = load_rubric(write_rubrics(tmp_path, violin=violin), "violin")
    assert problems == ()
    assert rubric is not None
    assert "tuners" not in rubric.checks
    check = rubric.checks["bridge_feet"]
    assert (check.minutes, check.outcomes["gaps"].worth, check.outcomes["gaps"].say) == (3, 0.1, "Light under a foot")
    assert rubric.opinion_of == {}


def test_a_shop_and_one_that_extends_it(tmp_path: Path) -> None:
    root = write_rubrics(tmp_path)
    mine = tmp_path / "mine.yaml"
    mine.write_text("extends: default\nshop: Mine\nrates: {repair: {low: 1, likely: 2, high: 3}}\n", encoding="utf-8")
    shop, problems = load_shop(mine, root / "shop.yaml")
    assert problems == ()
    assert shop is not None
    assert (shop.shop, shop.rates["repair"].likely, shop.rates["set_up"].likely) == ("Mine", 2, 85)
    _, problems = load_shop(mine)
    assert [one.code for one in problems] == ["shop.extends"]
    mine.write_text(mine.read_text(encoding="utf-8").replace("low: 1", "low: 9"), encoding="utf-8")
    _, problems = load_shop(mine, root / "shop.yaml")
    assert [str(one) for one in problems] == [
        f"{mine}:3:17 low, likely and high are not in order. Write the smallest first."
    ]


def test_a_shop_that_extends_itself(tmp_path: Path) -> None:
    path = tmp_path / "mine.yaml"
    path.write_text("extends: mine.yaml\n", encoding="utf-8")
    _, problems = load_shop(path)
    assert [one.code for one in problems] == ["shop.extends"]


@pytest.mark.parametrize(
    ("content", "code"),
    [(b"", "document.empty"), (b"\xff\x00", "document.binary"), (b"x" * 10_000_000, "document.too_large"),
     (b"[]", "document.not_a_mapping"), (None, "file.unreadable")],
)  # fmt: skip
def test_files_that_are_none(content: bytes | None, code: str, tmp_path: Path) -> None:
    path = tmp_path / "shop.yaml"
    if content is not None:
        path.write_bytes(content)
    shop, problems = load_shop(path)
    assert shop is None
    assert [one.code for one in problems] == [code]
    assert str(problems[0]).count(". ") <= 1


def test_the_kind_of_a_file_follows_from_its_keys(tmp_path: Path) -> None:
    root = write_rubrics(tmp_path)
    files = {
        "alone.yaml": (VIOLIN.replace("include: [jobs.yaml]", JOBS).replace("minutes", "minuets"), "shape.unknown_key"),
        "part.yaml": ("checks:\n  - {check: a, part: whole}\n", "shape.missing"),
        "overlay.yaml": ("extends: violin\ndrop: [nothing_such]\n", "overlay.nothing_to_drop"),
        "shop.yaml": (SHOP.replace("bridge_new:", "bridge_old:"), "shop.unknown_job"),
        "case.yaml": ("format: 1\nrubric: violin\n", None),
    }
    folder = tmp_path / "mixed"
    folder.mkdir()
    for name, (content, _) in files.items():
        (folder / name).write_text(content, encoding="utf-8")
    for name, (_, code) in files.items():
        codes = {one.code for one in check_path(folder / name, root).problems}
        assert codes == ({code} if code else set()), name
    assert {one.code for one in check_path(folder, root).problems} == {code for _, code in files.values() if code}


def test_one_file_of_a_folder_is_told_alone(tmp_path: Path) -> None:
    violin = VIOLIN.replace("ask: Do", "aks: Do").replace("include: [jobs.yaml]", "include: [checks/jobs.yaml]")
    root = write_rubrics(tmp_path, violin=violin)
    (root / "checks").mkdir()
    (root / "checks" / "jobs.yaml").write_text(JOBS.replace("plain: We plane", "plian: We plane"), encoding="utf-8")
    told = check_path(root / "checks" / "jobs.yaml", root)
    assert {one.place.file for one in told.problems if one.place} == {"rubrics/checks/jobs.yaml"}


def test_a_problem_is_quoted_with_a_mark_below_it(tmp_path: Path) -> None:
    root = write_rubrics(tmp_path, violin=VIOLIN.replace("    minutes: 1\n", "    minuets: 1\n"))
    assert check_path(root, root).text() == (
        'rubrics/families/violin.yaml:28:5 check "bridge_feet": unknown key "minuets". Did you mean "minutes"?\n'
        "        minuets: 1\n"
        "        ^"
    )


@pytest.mark.parametrize("name", family_names(rubrics_folder()))
def test_ours_load(name: str) -> None:
    rubric, problems = load_rubric(rubrics_folder(), name)
    assert [str(one) for one in problems] == []
    assert rubric is not None
    assert rubric.name == name


def test_a_shop_file_with_a_figure_of_before_is_still_read(tmp_path: Path) -> None:
    mine = tmp_path / "mine.yaml"
    mine.write_text("extends: default\nshop: Mine\ntime_to_pay_days: 14\n", encoding="utf-8")
    shop, problems = load_shop(mine, rubrics_folder() / "shop.yaml")
    assert shop is not None, problems
    assert shop.shop == "Mine"
