"""The built-in shop as it was read and checked before, kept beside the rubrics: most commands ask for no other."""

from pathlib import Path

from ...basis.problem import Problem
from ...rubric.shop import Shop
from .kept import made_once

SUFFIX = ".shop"


def default_shop(path: Path) -> tuple[Shop | None, tuple[Problem, ...]]:
    """As `load_shop` of the built-in file, which extends no other; from what was kept where that is the very same."""

    def read() -> tuple[Shop | None, tuple[Problem, ...]]:
        from ...rubric.files.shop_file import load_shop

        return load_shop(path)

    return made_once(str(path), lambda: (path,), Shop, SUFFIX, read)
