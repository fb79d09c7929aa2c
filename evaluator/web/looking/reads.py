"""How typed readings were read, for the pages that ask for them: the values, and the words beside a field."""

import re
from collections.abc import Iterable, Iterator, Mapping, Sequence

from ...assessment.model import Observation
from ...assessment.observing.typed import Answers
from ...basis.show import number, with_unit

Seen = Mapping[str, Sequence[Observation]]
_PLAIN = re.compile(r"-?[0-9]+(?:[.,][0-9]{1,2})?")


def values_of(seen: Seen, checks: Iterable[str]) -> dict[str, float]:
    """The value of each reading among these checks, in the unit of its check."""
    return {name: one.reading.value for name, one in _standing(seen, checks) if one.reading is not None}


def readings_told(seen: Seen, answers: Answers) -> dict[str, str]:
    """'1 1/64 in read as 25.8 mm', by check, for readings in another unit or with signs that leave room for doubt."""
    found = {}
    for name, one in _standing(seen, answers):
        typed, unit = str(answers[name].get("reading", "")), str(answers[name].get("unit") or "")
        if one.reading is not None and not _plainly(typed, unit, one):
            found[name] = f"{typed.strip()} read as {_said(one)}"
    return found


def _standing(seen: Seen, checks: Iterable[str]) -> Iterator[tuple[str, Observation]]:
    """Of each check that was read the answer that stands; what others gave beside it comes behind."""
    yield from ((name, seen[name][0]) for name in checks if seen.get(name))


def _plainly(typed: str, unit: str, one: Observation) -> bool:
    """Whether every reading is a plain number in the unit of its check."""
    here = one.reading.unit if one.reading else ""
    parts = [part.strip().removesuffix(here).strip() for part in typed.split(";") if part.strip()]
    return unit in {"", here} and all(_PLAIN.fullmatch(part) for part in parts)


def _said(one: Observation) -> str:
    if one.reading is None:
        return ""
    return "; ".join(with_unit(number(value, 3).replace(",", ""), one.reading.unit) for value in one.reading.values)
