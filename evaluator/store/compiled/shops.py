"""The built-in shop as it was read and checked before, kept beside the rubrics: most commands ask for no other."""

from pathlib import Path

from ...basis.problem import Problem
from ...rubric.shop import Shop
from .kept import cache_folder, keep, kept, key_of

SUFFIX = ".shop"


def default_shop(path: Path) -> tuple[Shop | None, tuple[Problem, ...]]:
    """As `load_shop` of the built-in file, which extends no other; from what was kept where that is the very same."""
    folder = cache_folder()
    try:
        key = key_of(str(path), (path,))
    except OSError:  # what cannot be read is told by the reader
        key = ""
    before = kept(folder / f"{key}{SUFFIX}", Shop) if folder and key else None
    if before is not None:
        return before, ()
    from ...rubric.files.shop_file import load_shop

    shop, problems = load_shop(path)
    if shop is not None and folder and key:
        keep(shop, folder / f"{key}{SUFFIX}")
    return shop, problems
