"""A shop's own opinion on one check, job or standard: a deep change of single keys, validated like the original."""

from collections.abc import Mapping
from typing import Any

from pydantic import ValidationError

from ..basis.document import Document
from ..basis.problem import Problem
from .mistakes import problems_of
from .model import Written


def merged(old: Mapping[str, Any], change: Mapping[str, Any]) -> dict[str, Any]:
    """`old` with the keys of `change`; mappings are merged key by key, everything else is replaced."""
    result = dict(old)
    for key, value in change.items():
        before = result.get(key)
        both = isinstance(value, Mapping) and isinstance(before, Mapping)
        result[key] = merged(before, value) if both else value  # type: ignore[arg-type]
    return result


def changed(
    entry: Written, change: Mapping[str, Any], document: Document, name: str
) -> tuple[Written | None, list[Problem]]:
    """The entry with the change on it, or the mistakes in the change at their places in the overlay."""
    old = entry.model_dump(mode="python", by_alias=True, exclude_unset=True)
    try:
        return type(entry).model_validate(merged(old, change)), []
    except ValidationError as error:
        found = problems_of(error, document, type(entry))
        places = [document.place("change", name, *one["loc"]) for one in error.errors(include_url=False)]
        return None, [
            Problem(p.code, f'change of "{name}"', p.what, p.what_to_do, place)
            for p, place in zip(found, places, strict=False)
        ]
