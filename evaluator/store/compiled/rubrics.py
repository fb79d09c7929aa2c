"""A rubric as it was read and checked before, kept so that a command need not read its forty files again.

It is known by the content of every file that it was made of. Only a rubric without mistakes is kept.
"""

import os
from collections.abc import Iterator, Sequence
from pathlib import Path

from ...basis.problem import Problem
from ...rubric.rubric import Rubric
from .kept import made_once

SUFFIX = ".rubric"


def rubric_read(root: Path, name: str, overlays: Sequence[Path] = ()) -> tuple[Rubric | None, tuple[Problem, ...]]:
    """As `load_rubric`, from what was kept where it was made of the very same files."""

    def read() -> tuple[Rubric | None, tuple[Problem, ...]]:
        from ...rubric.files.load import load_rubric

        return load_rubric(root, name, overlays)

    return made_once((str(root), name), lambda: (*_files(root), *overlays), Rubric, SUFFIX, read)


def _files(root: Path) -> Iterator[Path]:
    """Every file of a rubrics folder that a family may include, in order."""
    for folder, inner, names in os.walk(root):
        inner[:] = sorted(one for one in inner if one not in ("examples", "overlays"))
        yield from (Path(folder, one) for one in sorted(names) if one.endswith((".yaml", ".yml")))
