"""The fields of a shop's figures: where each stands in the file, how it is shown, and what was typed put back there.

What is typed goes into the file as typed, and the file's own reader tells what is wrong with it; an empty field takes
the key out, so that the default's figure counts again.
"""

import re
from collections.abc import Iterable, Mapping, Sequence
from copy import deepcopy
from dataclasses import dataclass
from decimal import Decimal
from itertools import pairwise
from typing import Literal

import yaml

from ...basis.document import Document
from ...basis.problem import Problem
from ...basis.record import as_object
from ...basis.show import money, number
from ...rubric.shop import Shop
from ...wording.answer.source import is_borrowed

Kind = Literal["text", "lines", "money", "percent", "number", "whole", "choice", "three"]
Data = dict[str, object]
Typed = Mapping[str, str]
POINTS = ("low", "likely", "high")
_PLAIN = re.compile(r"-?[0-9]{1,9}(\.[0-9]{1,6})?")
_WHOLE = re.compile(r"[0-9]{1,9}")


@dataclass(frozen=True, slots=True)
class Field:
    """One figure: `path` in the file (list places from 0), its label and kind; `choices` as (value, words)."""

    path: tuple[str | int, ...]
    label: str
    kind: Kind
    hint: str = ""
    choices: tuple[tuple[str, str], ...] = ()

    @property
    def name(self) -> str:
        return ".".join(map(str, self.path))

    @property
    def names(self) -> tuple[str, ...]:
        """The names of its inputs."""
        return tuple(f"{self.name}.{point}" for point in POINTS) if self.kind == "three" else (self.name,)


def value_at(data: object, path: Sequence[str | int]) -> object:
    """What stands at a path; None where nothing does. One rate for all skills is the rate of each."""
    for step in path:
        if path[0] == "rates" and isinstance(data, str | int | float):
            return data
        if isinstance(data, Mapping):
            data = data.get(step)
        elif isinstance(data, list) and isinstance(step, int) and step < len(data):
            data = data[step]
        else:
            return None
    return data


def shown(field: Field, data: Data) -> dict[str, str]:
    """The texts of its inputs for what the file says; empty where it says nothing."""
    value = value_at(data, field.path)
    if field.kind == "three":
        points = value if isinstance(value, Mapping) else {"likely": value}
        return {f"{field.name}.{point}": _text("money", points.get(point)) for point in POINTS}
    return {field.name: _text(field.kind, value)}


def _text(kind: Kind, value: object) -> str:
    if value is None:
        return ""
    if kind == "lines":
        return "\n".join(map(str, value)) if isinstance(value, list) else str(value)
    if isinstance(value, int | float) and not isinstance(value, bool):
        return number(100 * value, 4) if kind == "percent" else number(value, 6).replace(",", "")
    return str(value)


def with_typed(data: Data, fields: Iterable[Field], typed: Typed) -> Data:
    """The file's data with what was typed into these fields."""
    made = deepcopy(data)
    for field in fields:
        texts = [typed.get(name, "").strip() for name in field.names]
        value = _three(texts) if field.kind == "three" else _value(field.kind, texts[0])
        if field.path[0] == "rates" and not isinstance(made.get("rates"), Mapping | None):
            made["rates"] = dict.fromkeys(("set_up", "repair", "restoration"), made["rates"])
        _put(made, field.path, value)
    return {**as_object(_tidy(made))}


def _three(texts: list[str]) -> object:
    """One figure where only the likely one is typed, else what is typed by point."""
    found = {point: _value("money", text) for point, text in zip(POINTS, texts, strict=True) if text}
    return found["likely"] if set(found) == {"likely"} else found or None


def _value(kind: Kind, text: str) -> object:
    if not text:
        return None
    if kind == "lines":
        return [line.strip() for line in text.splitlines() if line.strip()]
    if kind == "percent":
        return f"{text.rstrip('% ')} %"
    if kind == "whole":
        return int(text) if _WHOLE.fullmatch(text) else text
    if kind in ("money", "number") and _PLAIN.fullmatch(text):
        return int(text) if text.lstrip("-").isdigit() else float(text)
    return text


def _put(data: Data, path: Sequence[str | int], value: object) -> None:
    """Set what stands at a path, or take it out; what is on the way is made."""
    group = data
    for step, following in pairwise(path):
        if isinstance(following, int):
            group = _row(group, str(step), following)
        elif isinstance(step, str):
            group = _group(group, step)
    if value is None:
        group.pop(str(path[-1]), None)
    else:
        group[str(path[-1])] = value


def _group(data: Data, name: str) -> Data:
    here = data.get(name)
    if not isinstance(here, dict):
        here = data[name] = {}
    return here


def _row(data: Data, name: str, place: int) -> Data:
    rows = data.get(name)
    if not isinstance(rows, list):
        rows = data[name] = []
    while len(rows) <= place:
        rows.append({})
    if not isinstance(rows[place], dict):
        rows[place] = {}
    row: Data = rows[place]
    return row


def _tidy(data: object) -> object:
    """Without groups and rows that hold nothing."""
    if isinstance(data, dict):
        kept = {key: _tidy(value) for key, value in data.items()}
        return {key: value for key, value in kept.items() if value not in ({}, [])}
    return [one for one in map(_tidy, data) if one != {}] if isinstance(data, list) else data


def as_yaml(data: Data) -> str:
    """The file's text, each group of figures on its line."""
    return yaml.safe_dump(data, sort_keys=False, allow_unicode=True, default_flow_style=None, width=10_000)


def by_field(problems: Iterable[Problem], document: Document, fields: Iterable[Field]) -> dict[str, str]:
    """The sentences of the checker by the name of the field beside which they stand; those of no field under ''."""
    starts = []
    for field in fields:
        if value_at(document.data, field.path) is not None:
            place = document.place(*field.path, key=not isinstance(field.path[-1], int))
            starts.append(((place.line, place.column), field.name))
    starts.sort()
    found: dict[str, str] = {}
    for one in problems:
        where = (one.place.line, one.place.column) if one.place and one.place.file == document.name else (0, 0)
        before = [name for start, name in starts if start <= where]
        near = before[-1] if before and where[0] <= _last_line(starts, before[-1]) else ""
        sentence = f"{one.what} {one.what_to_do}".strip()
        told = sentence[:1].upper() + sentence[1:]
        found[near] = f"{found[near]} {told}" if near in found else told
    return found


def _last_line(starts: Sequence[tuple[tuple[int, int], str]], name: str) -> int:
    """The line before the next field begins, or the field's own where that begins on the same one."""
    place = next(at for at, (_, one) in enumerate(starts) if one == name)
    line = starts[place][0][0]
    following = starts[place + 1][0][0] if place + 1 < len(starts) else line
    return max(line, following - 1)


def default_said(field: Field, shop: Shop) -> str:
    """Whose the figure is that counts now, where it is not the workshop's own."""
    name = field.name
    if field.path[0] in ("part_prices", "job_prices"):
        return ""
    if not shop.is_default and not is_borrowed(shop.borrowed, name):
        inside = field.path[0] == "guide" and "guide.prices" in shop.borrowed
        if not inside:
            return ""
    value = value_at(shop.model_dump(mode="python"), field.path)
    said = _in_words(field, value, shop)
    return f"Default, from memory: {said}." if said else ""


def _in_words(field: Field, value: object, shop: Shop) -> str:
    if not value or field.path == ("exchange",) or field.kind in ("text", "lines", "choice"):
        return ""
    if field.kind == "three":
        points = as_object(value)
        low, likely, high = (money(_number(points[point]), shop.currency) for point in ("low", "likely", "high"))
        return f"{likely}, between {low} and {high}"
    if field.kind == "money":
        return money(_number(value), shop.currency)
    return f"{number(float(100 * _number(value)))} %" if field.kind == "percent" else number(float(_number(value)))


def _number(value: object) -> float | Decimal:
    assert isinstance(value, int | float | Decimal)
    return value
