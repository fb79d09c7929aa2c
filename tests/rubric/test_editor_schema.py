"""Editors complete our files: the schema beside them is fresh, and every file names it."""

import json
from pathlib import Path

import pytest

from evaluator.rubric.file import schema
from evaluator.store.folders import rubrics_folder

ROOT = rubrics_folder()
LINE = "# yaml-language-server: $schema=../rubric.schema.json"
FILES = sorted(
    p for name in ("checks", "families", "standards", "jobs", "overlays") for p in (ROOT / name).glob("*.yaml")
)


def test_the_schema_beside_the_rubrics_is_fresh() -> None:
    """Made anew by: evaluator rubric schema > rubrics/rubric.schema.json"""
    assert json.loads((ROOT / "rubric.schema.json").read_text(encoding="utf-8")) == schema()


@pytest.mark.parametrize("path", FILES, ids=lambda p: f"{p.parent.name}/{p.stem}")
def test_every_file_names_the_schema(path: Path) -> None:
    assert path.read_text(encoding="utf-8").splitlines()[0] == LINE
