"""The program's own folders: where the rubrics and the page templates lie, inside an installed wheel or beside the
package in a checkout, and what is read of them: rubrics, the built-in shop, and what the trade knows beside.

Rubrics and shop are taken as they were read and checked before, so that a command need not read forty files again: they
are known by the content of every file that they were made of, and only what has no mistake is kept.
"""

import os
from collections.abc import Iterator, Sequence
from functools import lru_cache
from pathlib import Path
from typing import TYPE_CHECKING, TypeVar

from ..basis.problem import Problem

if TYPE_CHECKING:
    from ..rubric.knowledge import Owning, Seasons
    from ..rubric.rubric import Rubric
    from ..rubric.shop import Shop

RUBRIC_SUFFIX, SHOP_SUFFIX = ".rubric", ".shop"
Facts = TypeVar("Facts")


def rubrics_folder() -> Path:
    """The folder of rubrics, standards, jobs, the default shop file and the examples."""
    return _folder("rubrics")


def templates_folder() -> Path:
    """The folder of Jinja pages."""
    return _folder("templates")


def _folder(name: str) -> Path:
    package = Path(__file__).parents[1]
    installed = package / "_data" / name
    return installed if installed.is_dir() else package.parent / name


def rubric_read(root: Path, name: str, overlays: Sequence[Path] = ()) -> "tuple[Rubric | None, tuple[Problem, ...]]":
    """As `load_rubric`, from what was kept where it was made of the very same files."""
    from ..rubric.rubric import Rubric  # late, as all below: a command that only asks for a folder reads nothing
    from .kept import made_once

    def read() -> tuple[Rubric | None, tuple[Problem, ...]]:
        from ..rubric.files.load import load_rubric

        return load_rubric(root, name, overlays)

    return made_once((str(root), name), lambda: (*_files(root), *overlays), Rubric, RUBRIC_SUFFIX, read)


def _files(root: Path) -> Iterator[Path]:
    """Every file of a rubrics folder that a family may include, in order."""
    for folder, inner, names in os.walk(root):
        inner[:] = sorted(one for one in inner if one not in ("examples", "overlays"))
        yield from (Path(folder, one) for one in sorted(names) if one.endswith((".yaml", ".yml")))


def default_shop(path: Path) -> "tuple[Shop | None, tuple[Problem, ...]]":
    """As `load_shop` of the built-in file, which extends no other; from what was kept where that is the very same."""
    from ..rubric.shop import Shop
    from .kept import made_once

    def read() -> tuple[Shop | None, tuple[Problem, ...]]:
        from ..rubric.files.shop_file import load_shop

        return load_shop(path)

    return made_once(str(path), lambda: (path,), Shop, SHOP_SUFFIX, read)


@lru_cache(maxsize=1)
def owning_known() -> "Owning":
    """The facts of owning.yaml."""
    from ..rubric.facts import read_owning

    found, _, problems = read_owning(rubrics_folder() / "owning.yaml")
    return _sound(found, problems)


@lru_cache(maxsize=1)
def seasons_known() -> "Seasons":
    """The facts of seasons.yaml."""
    from ..rubric.facts import read_facts
    from ..rubric.knowledge import Seasons

    found, _, problems = read_facts(rubrics_folder() / "seasons.yaml", Seasons)
    return _sound(found, problems)


def _sound(found: Facts | None, problems: tuple[Problem, ...]) -> Facts:
    """The facts; a mistake in our own files is a bug and raises."""
    if found is None:
        raise RuntimeError("; ".join(map(str, problems)))
    return found
