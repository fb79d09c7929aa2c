"""Evaluations in the database: made, read, saved part by part, finished. A change names the version it was made on."""

import json
import secrets
from collections.abc import Callable, Mapping
from dataclasses import dataclass

from sqlalchemy import Connection, Engine, Row, Text, bindparam, cast, func, insert, select, update

from ..assessment.model import CANNOT_TELL
from ..assessment.observing.typed import (
    Answer,
    Answers,
    SalesChosen,
    Start,
    Typed,
    Visit,
    another_person,
    later_by_another,
)
from ..basis.record import as_object
from .engine import reading, writing, written
from .finding.words import EVALUATION, note_words
from .schema import as_sorted, evaluations

DRAFT, FINISHED = "draft", "finished"
Photos = tuple[Mapping[str, str], ...]
ID_BYTES = 6
# A result is read as it was written: most pages know it by its version, and taking its JSON apart takes a millisecond.
BRIEF = tuple(column for column in evaluations.columns if column.name != "snapshot")
WHOLE = (*BRIEF, func.nullif(cast(evaluations.c.snapshot, Text), "null").label("frozen"))  # none is null or "null"


_HERE = evaluations.c
STAND = select(_HERE.version, _HERE.rubric, _HERE.state).where(_HERE.id == bindparam("identity"))  # made once


@dataclass(frozen=True, slots=True)
class Kept:
    """One evaluation: `typed` is {"start": {...}, "answers": {check: {...}}} as typed; times are ISO texts, UTC.

    `frozen` is the JSON of its result; None in a draft, and in lists, which do not read it.
    """

    id: str
    version: int
    title: str
    rubric: str
    state: str
    created: str
    changed: str
    typed: Typed
    rubric_hash: str | None
    made_from: str | None
    sorted_as: str = ""
    frozen: str | None = None

    @property
    def snapshot(self) -> Mapping[str, object] | None:
        """The result that was kept with it, taken apart anew each time."""
        return None if self.frozen is None else as_object(json.loads(self.frozen))


@dataclass(frozen=True, slots=True)
class Conflict:
    """Somebody else saved first: `kept` is what stands now; nothing of the refused change was written."""

    kept: Kept


def create(engine: Engine, rubric: str, typed: Typed, now: str, made_from: str | None = None) -> str:
    """A new draft; gives its id."""
    identity = secrets.token_hex(ID_BYTES)
    with writing(engine) as connection:
        connection.execute(
            insert(evaluations).values(
                id=identity,
                version=1,
                title=_title(typed),
                rubric=rubric,
                state=DRAFT,
                created=now,
                changed=now,
                typed=dict(typed),
                made_from=made_from,
            )
        )
        note_words(connection, EVALUATION, identity, now, [_title(typed)])
    return identity


def find(engine: Engine, identity: str) -> Kept | None:
    """The evaluation with this id."""
    with reading(engine) as connection:
        row = row_of(connection, identity)
    return None if row is None else Kept(**row._mapping)


def row_of(connection: Connection, identity: str) -> Row[object] | None:
    """All of one evaluation, for `Kept`."""
    return connection.execute(select(*WHOLE).where(evaluations.c.id == identity)).one_or_none()


@dataclass(frozen=True, slots=True)
class Stand:
    """Where an evaluation stands, without what was typed and its result."""

    version: int
    rubric: str
    state: str


def stand_of(engine: Engine, identity: str) -> Stand | None:
    """Where the evaluation with this id stands; None where there is none."""
    with reading(engine) as connection:
        row = connection.execute(STAND, {"identity": identity}).one_or_none()
    return None if row is None else Stand(**row._mapping)


def newest(engine: Engine, count: int = 200, state: str = "") -> tuple[Kept, ...]:
    """The last changed evaluations (of one state), newest first; their results are not read."""
    query = select(*BRIEF).order_by(evaluations.c.changed.desc(), evaluations.c.id.desc()).limit(count)
    if state:
        query = query.where(evaluations.c.state == state)
    with reading(engine) as connection:
        return tuple(Kept(**row._mapping) for row in connection.execute(query))


def newest_made_from(engine: Engine, identity: str, since: str) -> Kept | None:
    """The newest evaluation that was begun as another look at this one, at `since` (an ISO time) or later."""
    columns = evaluations.c
    query = select(*WHOLE).where(columns.made_from == identity, columns.created >= since)
    with reading(engine) as connection:
        row = connection.execute(query.order_by(columns.created.desc(), columns.id)).first()
    return None if row is None else Kept(**row._mapping)


def save_answers(
    engine: Engine, identity: str, version: int, answers: Answers, now: str, writer: str = ""
) -> Kept | Conflict | None:
    """Replace the answers of the named checks (an empty one is taken out); None where there is no such draft.

    A clash of versions is a Conflict only where another `writer` (an open page) changed one of the same checks; two
    people on two parts of one instrument do not disturb each other.
    """
    with writing(engine) as connection:
        row = row_of(connection, identity)
        if row is None or row.state != DRAFT:
            return None
        kept: Typed = row.typed
        before = dict(kept["answers"])
        stamps = dict(kept.get("stamps", {}))
        changed = {name: dict(answer) for name, answer in answers.items() if dict(answer) != before.get(name, {})}
        if any(later_by_another(stamps.get(name), version, writer) for name in changed):
            return Conflict(Kept(**row._mapping))
        after = {name: answer for name, answer in (before | changed).items() if answer}
        stamps |= {name: [row.version + 1, writer] for name in changed}
        return _written(connection, row, {**kept, "answers": after, "stamps": stamps}, now, bool(changed))


def save_start(engine: Engine, identity: str, version: int, start: Start, now: str) -> Kept | Conflict | None:
    """Replace what was typed on the first page."""
    with writing(engine) as connection:
        row = row_of(connection, identity)
        if row is None or row.state != DRAFT:
            return None
        kept: Typed = row.typed
        if row.version != version and kept["start"] != dict(start):
            return Conflict(Kept(**row._mapping))
        return _written(connection, row, {**kept, "start": dict(start)}, now, kept["start"] != dict(start))


def save_plan(engine: Engine, identity: str, plan: Visit) -> Kept | None:
    """Keep which looks a visit holds, so that they are the same when somebody comes back; answers and version stay."""
    with writing(engine) as connection:
        row = row_of(connection, identity)
        if row is None or row.state != DRAFT:
            return None
        typed = {**row.typed, "plan": dict(plan)}
        connection.execute(update(evaluations).where(evaluations.c.id == identity).values(typed=typed))
        return Kept(**(dict(row._mapping) | {"typed": typed}))


def save_look(
    engine: Engine, identity: str, version: int, check: str, answer: Answer, now: str, writer: str
) -> tuple[Kept, bool] | None:
    """Keep one answer given on a phone; None where there is no such draft.

    Where another `writer` answered the same check since `version`, or at any time where one of them is a guest, neither
    is lost: the later one is kept beside the first (in `typed["beside"]`, by check and writer), and the second value is
    True. An answer that tells stands before one that could not tell.
    """
    with writing(engine) as connection:
        row = row_of(connection, identity)
        if row is None or row.state != DRAFT:
            return None
        kept: Typed = row.typed
        answers, stamps = dict(kept["answers"]), dict(kept.get("stamps", {}))
        beside = {name: dict(others) for name, others in kept.get("beside", {}).items()}
        others = beside.get(check, {})
        stamp, before = stamps.get(check), answers.get(check)
        other = before is not None and another_person(stamp, writer)
        second = writer in others or (check in answers and (other or later_by_another(stamp, version, writer)))
        if before is not None and other and answer and writer not in others and before.get("outcome") == CANNOT_TELL:
            beside = {**beside, check: {**others, str(stamp[1]) if stamp else "": before}}
            answers, stamps = {**answers, check: dict(answer)}, {**stamps, check: [row.version + 1, writer]}
        elif second:
            others = {**others, writer: dict(answer)} if answer else {k: v for k, v in others.items() if k != writer}
            beside = {**beside, check: others} if others else {k: v for k, v in beside.items() if k != check}
        elif answer:
            answers, stamps = {**answers, check: dict(answer)}, {**stamps, check: [row.version + 1, writer]}
        else:
            answers.pop(check, None)
        typed: Typed = {**kept, "answers": answers, "stamps": stamps, "beside": beside}
        changed = answers != kept["answers"] or beside != kept.get("beside", {})
        return _written(connection, row, typed, now, changed), second


def add_photo(engine: Engine, identity: str, check: str, photo: Mapping[str, str], now: str) -> Kept | None:
    """Keep a photo of one look (its `name`, and `by` and `at` where said), once; None where there is no such draft."""
    return _with_photos(
        engine, identity, check, now, lambda kept: (*(p for p in kept if p["name"] != photo["name"]), photo)
    )


def remove_photo(engine: Engine, identity: str, check: str, name: str, now: str) -> Kept | None:
    """Take a photo off a look; its file stays, as another evaluation may show it."""
    return _with_photos(engine, identity, check, now, lambda kept: tuple(p for p in kept if p["name"] != name))


def _with_photos(
    engine: Engine, identity: str, check: str, now: str, changed: Callable[[Photos], Photos]
) -> Kept | None:
    with writing(engine) as connection:
        row = row_of(connection, identity)
        if row is None or row.state != DRAFT:
            return None
        kept: Typed = row.typed
        before = kept.get("photos", {})
        after = {**before, check: [dict(photo) for photo in changed(tuple(before.get(check, ())))]}
        after = {name: photos for name, photos in after.items() if photos}
        return _written(connection, row, {**kept, "photos": after}, now, after != before)


def save_sales_choices(
    engine: Engine, identity: str, version: int, chosen: SalesChosen, now: str
) -> Kept | Conflict | None:
    """Keep what was decided about known sales for this one: set aside, grades, the share that lasting faults leave."""
    with writing(engine) as connection:
        row = row_of(connection, identity)
        if row is None or row.state != DRAFT:
            return None
        kept: Typed = row.typed
        before = kept.get("sales", {})
        if row.version != version and before != chosen:
            return Conflict(Kept(**row._mapping))
        return _written(connection, row, {**kept, "sales": chosen}, now, before != chosen)


def finish(
    engine: Engine, identity: str, version: int, snapshot: Mapping[str, object], rubric_hash: str, now: str
) -> Kept | Conflict | None:
    """Freeze a draft with its result as JSON; refused as a Conflict when the draft has changed since `version`."""
    with writing(engine) as connection:
        row = row_of(connection, identity)
        if row is None or row.state != DRAFT:
            return None
        if row.version != version:
            return Conflict(Kept(**row._mapping))
        values = {
            "state": FINISHED,
            "rubric_hash": rubric_hash,
            "version": version + 1,
            "changed": now,
        }
        here = update(evaluations).where(evaluations.c.id == identity)
        connection.execute(here.values(**values, snapshot=dict(snapshot)))
        return Kept(**(dict(row._mapping) | values | {"frozen": written(snapshot)}))


def _title(typed: Typed) -> str:
    return str(typed["start"].get("title") or "").replace("\0", "")[:400]


def _written(connection: Connection, row: Row[object], typed: Typed, now: str, changed: bool) -> Kept:
    if not changed:
        return Kept(**row._mapping)
    title = _title(typed)
    values = {"typed": dict(typed), "title": title, "version": row.version + 1, "changed": now}
    values["sorted_as"] = as_sorted(title)
    connection.execute(
        update(evaluations).where(evaluations.c.id == row.id, evaluations.c.version == row.version).values(**values)
    )
    if title != row.title:
        note_words(connection, EVALUATION, row.id, row.created, [title])
    return Kept(**(dict(row._mapping) | values))
