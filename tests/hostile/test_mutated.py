"""Spoilt files are told in sentences, whatever was spoilt; thousands by `tests.hostile.mutated`."""

from pathlib import Path

import pytest

from tests.hostile.doors import DOORS
from tests.hostile.mutated import FOUND, in_time, tried

FEW = {"evaluation": 40, "rubric": 6, "shop": 12, "overlay": 6}
FOUND_ONCE = sorted(FOUND.glob("*/*"))


@pytest.mark.parametrize("kind", sorted(DOORS))
def test_spoilt_files_are_told_or_used(kind: str) -> None:
    found = tried(kind, range(FEW[kind]))
    assert found.wrong == ()
    assert found.used < found.tried, "what is spoilt is noticed"


@pytest.mark.parametrize("path", FOUND_ONCE, ids=lambda path: f"{path.parent.name}-{path.stem}")
def test_what_went_wrong_once_is_told_now(path: Path, tmp_path: Path) -> None:
    with in_time():
        DOORS[path.parent.name](path.read_bytes(), tmp_path)
