"""A kept rubric is the same as one that is read, and is passed over whenever it may not be."""

import hashlib
import os
import pickle
from pathlib import Path
from shutil import copytree

import pytest

from evaluator.rubric.files import load
from evaluator.rubric.rubric import Rubric
from evaluator.store.folders import rubric_read, rubrics_folder
from evaluator.store.kept import cache_folder

ROOT = rubrics_folder()
OVERLAY = ROOT / "overlays" / "fiddle_workshop.yaml"


@pytest.fixture(autouse=True)
def cache(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path / "cache"))
    return tmp_path / "cache" / "bowed-evaluator"


@pytest.fixture
def reads(monkeypatch: pytest.MonkeyPatch) -> list[str]:
    """The names of the rubrics that were read from their files."""
    found: list[str] = []
    read = load.load_rubric

    def noted(root: Path, name: str, overlays: tuple[Path, ...] = ()) -> object:
        found.append(name)
        return read(root, name, overlays)

    monkeypatch.setattr(load, "load_rubric", noted)
    return found


def rubric(root: Path = ROOT, *overlays: Path) -> Rubric:
    found, problems = rubric_read(root, "bow", overlays)
    assert found is not None, problems
    return found


def only(folder: Path) -> Path:
    (path,) = folder.glob("*.rubric")
    return path


def test_it_is_read_once_and_is_the_same(reads: list[str]) -> None:
    first, second = rubric(), rubric()
    assert reads == ["bow"]
    assert first is not second
    assert first == second
    assert list(first.checks) == list(second.checks)


def test_another_word_in_a_file_is_another_rubric(tmp_path: Path, reads: list[str]) -> None:
    root = tmp_path / "rubrics"
    copytree(ROOT, root)
    before = rubric(root)
    family = root / "families" / "bow.yaml"
    family.write_text(family.read_text().replace(before.title, "Another title"))
    assert rubric(root).title == "Another title"
    assert reads == ["bow", "bow"]


def test_an_overlay_is_part_of_what_it_is_known_by(reads: list[str]) -> None:
    plain, laid = rubric(), rubric(ROOT, OVERLAY)
    assert reads == ["bow", "bow"]
    assert plain == rubric()
    assert laid == rubric(ROOT, OVERLAY)
    assert reads == ["bow", "bow"]


def test_what_is_wrong_is_told_every_time(tmp_path: Path, cache: Path) -> None:
    root = tmp_path / "rubrics"
    copytree(ROOT, root)
    (root / "checks" / "bow.yaml").write_text("checks: [{check: one}]\n")
    told = [rubric_read(root, "bow")[1] for _ in range(2)]
    assert told[0] == told[1] != ()
    assert not list(cache.glob("*"))


@pytest.mark.parametrize("content", [b"", b"short", b"x" * 5000], ids=["empty", "short", "noise"])
def test_a_damaged_file_is_passed_over_and_written_anew(cache: Path, reads: list[str], content: bytes) -> None:
    sound = rubric()
    path = only(cache)
    whole = path.read_bytes()
    path.write_bytes(content)
    assert rubric() == sound
    assert path.read_bytes()[:32] == hashlib.sha256(path.read_bytes()[32:]).digest()
    assert len(path.read_bytes()) == len(whole)
    assert reads == ["bow", "bow"]


class Touch:
    def __init__(self, path: str) -> None:
        self.path = path

    def __reduce__(self) -> tuple[object, tuple[str]]:
        return os.mkdir, (self.path,)


def test_a_file_that_would_do_something_does_nothing(cache: Path, tmp_path: Path, reads: list[str]) -> None:
    sound = rubric()
    content = pickle.dumps(Touch(str(tmp_path / "done")))
    only(cache).write_bytes(hashlib.sha256(content).digest() + content)
    assert rubric() == sound
    assert not (tmp_path / "done").exists()
    assert reads == ["bow", "bow"]


def test_a_folder_that_cannot_be_written_is_done_without(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, reads: list[str]
) -> None:
    (tmp_path / "file").write_text("no folder")
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path / "file"))
    assert rubric() == rubric()
    assert reads == ["bow", "bow"]


def test_a_relative_folder_is_not_taken(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    monkeypatch.setenv("XDG_CACHE_HOME", "here")
    monkeypatch.setenv("HOME", str(tmp_path))
    found = cache_folder()
    assert found is not None
    assert found.is_relative_to(tmp_path)
