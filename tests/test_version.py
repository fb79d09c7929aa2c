"""One version: of the program, of the package, of the newest entry among the changes, and on every result."""

import re
import tomllib
from pathlib import Path

from click.testing import CliRunner

from evaluator import __version__
from evaluator.cli.main import cli

ROOT = Path(__file__).parent.parent


def test_the_package_says_the_same() -> None:
    assert tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))["project"]["version"] == __version__


def test_the_changes_begin_with_it() -> None:
    changes = (ROOT / "DEVELOPERS.md").read_text("utf-8").partition("## Changes")[2]
    assert re.findall(r"^- \*\*([\d.]+)\*\*", changes, re.MULTILINE)[0] == __version__


def test_it_is_printed() -> None:
    assert CliRunner().invoke(cli, ["--version"]).output.split()[-1] == __version__


def test_a_result_keeps_it() -> None:
    example = str(ROOT / "rubrics" / "examples" / "two_cheap_signs.yaml")
    assert f'"program": "{__version__}"' in CliRunner().invoke(cli, ["score", example, "--json"]).output
