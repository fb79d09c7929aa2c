"""What the trade knows of owning, read once from the rubrics' folder for the pages of owners and parents."""

from functools import lru_cache

from ...rubric.owning.model import Owning
from ...rubric.owning.reading import load_owning
from ...store.folders import rubrics_folder


@lru_cache(maxsize=1)
def trade_knowledge() -> Owning:
    """The facts of owning.yaml; a mistake in our own file is a bug and raises."""
    found, problems = load_owning(rubrics_folder() / "owning.yaml")
    if found is None:
        raise RuntimeError("; ".join(map(str, problems)))
    return found
