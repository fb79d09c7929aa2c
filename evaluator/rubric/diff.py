"""What an overlay changes, or how two rubrics differ, in words: one sentence for each thing that is not the same."""

from collections.abc import Iterator, Mapping
from typing import TypeGuard

from ..basis.record import as_object
from ..basis.show import number
from .files.sources import KINDS, WORD_FOR
from .rubric import Rubric
from .show import limits_text, row_name
from .written.surroundings import StandardRow, StandardTable


def differences(before: Rubric, after: Rubric) -> tuple[str, ...]:
    """Sentences in the order of the rubric: its shares and sizes, then each kind of entry."""
    return tuple(_head(before, after)) + tuple(
        sentence for kind in KINDS if kind != "examples" for sentence in _entries(kind, before, after)
    )


def _head(before: Rubric, after: Rubric) -> Iterator[str]:
    if before.sizes != after.sizes:
        yield f"The sizes are {', '.join(after.sizes)}, no longer {', '.join(before.sizes)}."
    if before.default_size != after.default_size:
        yield f"The usual size is {after.default_size}, no longer {before.default_size}."
    for tier, shares in after.domain_shares.items():
        old = before.domain_shares.get(tier, {})
        for domain, share in shares.items():
            if share != old.get(domain, 0.0):
                was = number(old.get(domain, 0.0) * 100)
                yield f"For {tier}s, {domain} makes {number(share * 100)} % of the score, no longer {was} %."


def _entries(kind: str, before: Rubric, after: Rubric) -> Iterator[str]:
    old, new = getattr(before, kind), getattr(after, kind)
    word = WORD_FOR[kind]
    for name in old:
        if name not in new:
            yield f"The {word} {name} is dropped."
    for name, entry in new.items():
        by = f" ({after.opinion_of[name]})" if name in after.opinion_of else ""
        if name not in old:
            yield f"The {word} {name} is new{by}: {_title(entry)}"
        elif isinstance(entry, StandardTable):
            yield from _rows(old[name], entry, by)
        elif entry != old[name]:
            was, now = (one.model_dump(by_alias=True) for one in (old[name], entry))
            for said in _changes(was, now, ()):
                yield f"The {word} {name}{by}: {said}"


def _title(entry: object) -> str:
    return str(getattr(entry, "ask", None) or getattr(entry, "say", "")).rstrip(".") + "."


def _rows(before: StandardTable, after: StandardTable, by: str) -> Iterator[str]:
    """Limits compared row by row; rows are the same when family, size, style and strings are."""
    old = {row_name(row): row for row in before.rows}
    new = {row_name(row): row for row in after.rows}
    for name, row in new.items():
        if name not in old:
            yield f"The standard {after.standard} has a row for {name}{by}: {_limits(row, after.unit)}."
        elif _limits(row, after.unit) != _limits(old[name], before.unit):
            was = _limits(old[name], before.unit)
            yield f"The standard {after.standard} for {name}{by}: {_limits(row, after.unit)}, no longer {was}."
        elif row != old[name]:
            yield f"The standard {after.standard} for {name}{by}: other sources, worth, confidence or note."
    for name in old.keys() - new.keys():
        yield f"The standard {after.standard} has no row for {name} any more."


def _limits(row: StandardRow, unit: str) -> str:
    return limits_text(row.low, row.high, row.target, unit)


def _changes(before: object, after: object, path: tuple[str, ...]) -> Iterator[str]:
    """A clause for each key that differs, however deep."""
    if isinstance(before, Mapping) and isinstance(after, Mapping) and not _is_range(after):
        for key in dict.fromkeys([*before, *after]):
            if before.get(key) != after.get(key):
                yield from _changes(before.get(key), after.get(key), (*path, str(key)))
        return
    if path and path[0] == "weight" and isinstance(before, Mapping) != isinstance(after, Mapping):
        yield from _weights(before, after)
        return
    what = _words(path)
    if _is_nothing(before):
        yield f"{what} is now {_said(after)}."
    elif _is_nothing(after):
        yield f"{what} is gone (it was {_said(before)})."
    else:
        yield f"{what} is {_said(after)}, no longer {_said(before)}."


def _weights(before: object, after: object) -> Iterator[str]:
    """One weight for all against one for each tier."""
    tiers = before if isinstance(before, Mapping) else as_object(after)
    for tier in tiers:
        old, new = (one[tier] if isinstance(one, Mapping) else one for one in (before, after))
        if old != new:
            yield f"weight for {tier} is {_said(new)}, no longer {_said(old)}."


def _is_range(value: object) -> TypeGuard[Mapping[str, float]]:
    return isinstance(value, Mapping) and set(value) == {"low", "likely", "high"}


def _is_nothing(value: object) -> bool:
    return value is None or value in ((), {}, "")


def _words(path: tuple[str, ...]) -> str:
    """('outcomes', 'blunt', 'class') -> 'class of the outcome blunt'."""
    steps = list(path)
    if len(steps) >= 2 and steps[0] == "outcomes":
        rest = " ".join(steps[2:]).replace("_", " ")
        return f"{rest} of the outcome {steps[1]}" if rest else f"the outcome {steps[1]}"
    return " for ".join(step.replace("_", " ") for step in steps)


def _said(value: object) -> str:
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, (int, float)):
        return number(float(value), 3)
    if _is_range(value):
        return f"{number(value['low'])} / {number(value['likely'])} / {number(value['high'])}"
    if isinstance(value, Mapping):
        said = value.get("say") or value.get("part") or value.get("job")
        return (
            f'"{said}"' if said else ", ".join(f"{key} {_said(one)}" for key, one in value.items() if one is not None)
        )
    if isinstance(value, (tuple, list)):
        return ", ".join(_said(one) for one in value) or "nothing"
    text = str(value)
    return text if " " not in text else f'"{text}"'
