"""A rubric as it was read and checked before, kept so that a command need not read its forty files again.

It is known by the content of every file that it was made of. Only a rubric without mistakes is kept.
"""

import os
from collections.abc import Iterator, Sequence
from pathlib import Path

from ...basis.problem import Problem
from ...rubric.rubric import Rubric
from .kept import cache_folder, keep, kept, key_of

SUFFIX = ".rubric"


def rubric_read(root: Path, name: str, overlays: Sequence[Path] = ()) -> tuple[Rubric | None, tuple[Problem, ...]]:
    """As `load_rubric`, from what was kept where it was made of the very same files."""
    folder = cache_folder()
    try:
        key = key_of((str(root), name), (*_files(root), *overlays))
    except OSError:  # what cannot be read is told by the reader, with its place
        key = ""
    before = kept(folder / f"{key}{SUFFIX}", Rubric) if folder and key else None
    if before is not None:
        return before, ()
    from ...rubric.files.load import load_rubric

    rubric, problems = load_rubric(root, name, overlays)
    if rubric is not None and folder and key:
        keep(rubric, folder / f"{key}{SUFFIX}")
    return rubric, problems


def _files(root: Path) -> Iterator[Path]:
    """Every file of a rubrics folder that a family may include, in order."""
    for folder, inner, names in os.walk(root):
        inner[:] = sorted(one for one in inner if one not in ("examples", "overlays"))
        yield from (Path(folder, one) for one in sorted(names) if one.endswith((".yaml", ".yml")))
