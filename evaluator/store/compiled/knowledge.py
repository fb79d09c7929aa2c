"""What the trade knows beside the rubrics, read once from the rubrics' folder; a mistake in our own files is a bug."""

from functools import lru_cache
from typing import TypeVar

from ...basis.problem import Problem
from ...rubric.knowledge import Owning, Seasons
from ..folders import rubrics_folder

Facts = TypeVar("Facts")


@lru_cache(maxsize=1)
def owning_known() -> Owning:
    """The facts of owning.yaml."""
    from ...rubric.facts import read_owning

    found, _, problems = read_owning(rubrics_folder() / "owning.yaml")
    return _sound(found, problems)


@lru_cache(maxsize=1)
def seasons_known() -> Seasons:
    """The facts of seasons.yaml."""
    from ...rubric.facts import read_facts

    found, _, problems = read_facts(rubrics_folder() / "seasons.yaml", Seasons)
    return _sound(found, problems)


def _sound(found: Facts | None, problems: tuple[Problem, ...]) -> Facts:
    if found is None:
        raise RuntimeError("; ".join(map(str, problems)))
    return found
