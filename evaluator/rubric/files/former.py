"""Jobs under the names that they had before: what a workshop wrote with an old id means the job of today."""

from collections.abc import Iterable, Mapping

from ..model import TOGETHER, Job


def todays_names(jobs: Iterable[Job]) -> dict[str, str]:
    """The id of today for each id of before."""
    return {old: job.job for job in jobs for old in job.was}


def with_todays_names(data: object, names: Mapping[str, str]) -> object:
    """The data of a file with every job of before under its id of today; in ways of several jobs too."""
    if isinstance(data, str):
        return TOGETHER.join(names.get(one, one) for one in data.split(TOGETHER)) if _names_one(data, names) else data
    if isinstance(data, list):
        return [with_todays_names(one, names) for one in data]
    if isinstance(data, Mapping):
        return {names.get(key, key): with_todays_names(one, names) for key, one in data.items()}
    return data


def _names_one(text: str, names: Mapping[str, str]) -> bool:
    return any(one in names for one in text.split(TOGETHER))
