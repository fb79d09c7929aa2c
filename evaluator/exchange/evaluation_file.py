"""An evaluation as it is typed on the pages, and as the file that the command line reads: one from the other, and back.

`typed` is {"start": {...}, "answers": {check: {...}}, "beside": {check: {writer: {...}}}, "photos": {check: [...]}},
all of it texts as typed. A file holds the same under the names of its format; nothing is judged on the way.
"""

from collections.abc import Container, Iterator, Mapping, Sequence

import yaml

from ..assessment.observing.typed import Answer, Answers, Photo, Start, Typed
from ..basis.record import as_object
from ..basis.typed.quantities import with_unit_behind

START_KEYS = ("size", "style", "tier", "strings", "year", "age", "about")
HEAD_KEYS = ("title", "purpose", "seen_by", "looker")
PRICES = ("asking", "ready_value")
ANSWER_KEYS = ("outcome", "tool", "note", "seen_by", "by", "at")
FROM_FILE = "file"  # the writer of a second answer that came in with a file


def raw_observation(answer: Answer) -> dict[str, object] | None:
    """What `read_observation` takes, from one typed answer; None when nothing was answered."""
    raw: dict[str, object] = {key: answer[key] for key in ANSWER_KEYS if answer.get(key)}
    if answer.get("reading"):
        readings = [part.strip() for part in answer["reading"].split(";") if part.strip()]
        raw["reading"] = [with_unit_behind(text, answer.get("unit")) for text in readings]
        raw.pop("outcome", None)
    return raw if {"outcome", "reading", "note"} & set(raw) else None


def start_data(rubric: str, start: Start) -> dict[str, object]:
    """The head of an evaluation file from the first page's texts; empty fields are left out."""
    data: dict[str, object] = {"format": 1, "rubric": rubric, "purpose": start.get("purpose") or "buying"}
    data["instrument"] = {key: start[key] for key in START_KEYS if start.get(key)}
    for key in HEAD_KEYS:
        if start.get(key):
            data[key] = start[key]
    for key in PRICES:
        if start.get(key):
            data[key] = {"amount": start[key], "currency": start.get("currency") or "USD"}
    return data


def file_data(rubric: str, typed: Typed, known: Container[str]) -> dict[str, object]:
    """The evaluation file of what was typed; only answers to `known` checks."""
    observations: dict[str, list[dict[str, object]]] = {}
    for name, answer in _answers_in(typed):
        raw = raw_observation(answer) if name in known else None
        if raw is not None:
            observations.setdefault(name, []).append(raw)
    for name, photos in typed.get("photos", {}).items():
        if name in known:
            seen = observations.setdefault(name, [{}])
            seen[0] = {**seen[0], "photos": [photo["name"] for photo in photos]}
    return {**start_data(rubric, typed["start"]), "observations": observations}


def _answers_in(typed: Typed) -> Iterator[tuple[str, Answer]]:
    """Every answer by check: the one that stands, then those that others gave beside it."""
    yield from typed["answers"].items()
    for name, others in typed.get("beside", {}).items():
        yield from ((name, answer) for answer in others.values())


def as_yaml(data: Mapping[str, object]) -> str:
    """The file as text: each answer on lines of its own, texts in quotes where they could be read as something else."""
    shown = {**data, "observations": {name: _shortly(seen) for name, seen in as_object(data["observations"]).items()}}
    return yaml.safe_dump(shown, allow_unicode=True, sort_keys=False, width=110)


def _shortly(seen: object) -> object:
    """An answer alone stands without a list, and a bare outcome without a mapping."""
    if not isinstance(seen, list) or len(seen) != 1:
        return seen
    only = {**as_object(seen[0])}
    reading = only.get("reading")
    if isinstance(reading, list) and len(reading) == 1:
        only["reading"] = reading[0]
    return only["outcome"] if set(only) == {"outcome"} else only


def typed_from(data: Mapping[str, object]) -> Typed:
    """What would be typed on the pages to make the evaluation of a file. Further answers to a check stand beside."""
    start = {key: str(value) for key, value in as_object(data.get("instrument") or {}).items() if value is not None}
    start |= {key: str(data[key]) for key in HEAD_KEYS if data.get(key) is not None}
    for key in PRICES:
        if data.get(key):
            price = as_object(data[key])
            amount = price["amount"]
            start |= {key: getattr(amount, "text", str(amount)), "currency": str(price.get("currency", "USD"))}
    stand: dict[str, Answer] = {}
    beside: dict[str, Answers] = {}
    shown: dict[str, Sequence[Photo]] = {}
    for name, raw in as_object(data.get("observations") or {}).items():
        seen = list(raw) if isinstance(raw, list) else [raw]
        answers = [answer for one in seen if (answer := answer_of(one))]
        if answers:
            stand[str(name)] = answers[0]
        if answers[1:]:
            beside[str(name)] = {f"{FROM_FILE} {number}": one for number, one in enumerate(answers[1:], 2)}
        photos = [{"name": str(photo)} for one in seen if isinstance(one, Mapping) for photo in one.get("photos") or ()]
        if photos:
            shown[str(name)] = photos
    typed: Typed = {"start": start, "answers": stand}
    if beside:
        typed["beside"] = beside
    if shown:
        typed["photos"] = shown
    return typed


def answer_of(raw: object) -> dict[str, str]:
    """An observation of an evaluation file as it would be typed on a page; empty where nothing was recorded."""
    if raw is None or raw == "":
        return {}
    if not isinstance(raw, Mapping):
        raw = {"reading": raw} if isinstance(raw, (int, float)) or str(raw)[:1].isdigit() else {"outcome": raw}
    answer = {key: str(raw[key]) for key in (*ANSWER_KEYS, "unit") if raw.get(key) is not None}
    if raw.get("reading") is not None:
        readings = raw["reading"] if isinstance(raw["reading"], list) else [raw["reading"]]
        answer["reading"] = "; ".join(getattr(one, "text", str(one)) for one in readings)
    return answer
