"""The commands on a fleet: a table, a folder of papers, what could not be read, and one command's output in another."""

import csv
import io
import json
from pathlib import Path

import pytest

from tests.cli.test_cli import EXAMPLES, Run, run  # noqa: F401
from tests.fleet.fleets import folder_of, zipped


@pytest.fixture
def fleet(tmp_path: Path) -> Path:
    """Three instruments and one file that is none."""
    place = folder_of(tmp_path / "fleet", 3)
    (place / "photo.yaml").write_bytes(bytes(range(256)))
    return place


def test_a_folder_becomes_a_table_and_the_bad_file_is_listed(run: Run, fleet: Path, tmp_path: Path) -> None:  # noqa: F811
    ran = run("score", str(fleet), "--csv", str(tmp_path / "out.csv"))
    rows = list(csv.DictReader(io.StringIO((tmp_path / "out.csv").read_text("utf-8"))))
    assert ran.code == 1
    assert ran.out == ""
    assert "photo.yaml this is not a text file" in ran.err
    assert "Traceback" not in ran.err
    assert [Path(row["file"]).name for row in rows] == ["0000.yaml", "0001.yaml", "0002.yaml", "photo.yaml"]
    assert [bool(row["problem"]) for row in rows] == [False, False, False, True]


def test_the_table_goes_to_standard_output_alone(run: Run) -> None:  # noqa: F811
    ran = run("score", str(EXAMPLES[0]), str(EXAMPLES[1]), "--csv", "-", "--workers", "1")
    assert ran.code == 0
    assert len(list(csv.DictReader(io.StringIO(ran.out)))) == 2


def test_a_fleet_without_a_table_is_told(run: Run, fleet: Path) -> None:  # noqa: F811
    ran = run("score", str(fleet))
    assert (ran.code, ran.out) == (1, "")
    assert "--csv" in ran.err


def test_an_archive_becomes_papers_that_do_not_hide_each_other(run: Run, tmp_path: Path) -> None:  # noqa: F811
    content = EXAMPLES[0].read_bytes()
    (tmp_path / "rack.zip").write_bytes(zipped({"a/one.yaml": content, "b/one.yaml": content, "b/ ..yaml": content}))
    ran = run("report", str(tmp_path / "rack.zip"), "-o", str(tmp_path / "papers"), "--for", "shop")
    assert ran.code == 0
    papers = sorted(path.name for path in (tmp_path / "papers").iterdir())
    assert papers == ["instrument.pdf", "one-2.pdf", "one.pdf"]
    assert "Wrote 3 papers" in ran.err


def test_what_score_prints_report_takes(run: Run, tmp_path: Path) -> None:  # noqa: F811
    example = str(EXAMPLES[0])
    printed = tmp_path / "printed.json"
    printed.write_text(run("score", example, "--json").out, "utf-8")
    for place, file in (("one.pdf", example), ("two.pdf", str(printed))):
        assert run("report", file, "-o", str(tmp_path / place)).code == 0
    assert (tmp_path / "one.pdf").read_bytes() == (tmp_path / "two.pdf").read_bytes()
    assert run("score", str(printed)).out == run("score", example).out
    ran = run("report", str(printed), "-o", str(tmp_path / "x.pdf"), "--shop", "rubrics/shop.yaml")
    assert ran.code == 1
    assert "not judged again" in ran.err
    json.loads(printed.read_text("utf-8"))


@pytest.mark.parametrize("shell", ["bash", "zsh", "fish"])
def test_a_shell_learns_to_complete(run: Run, shell: str) -> None:  # noqa: F811
    ran = run("completion", shell)
    assert ran.code == 0
    assert f"_EVALUATOR_COMPLETE={shell}_complete" in ran.out
