"""Which evaluations and notes belong to an instrument, and what the workshop marks on an order."""

import secrets
from dataclasses import dataclass

from sqlalchemy import Connection, Engine, delete, func, insert, select, update

from ..engine import reading, writing
from ..evaluations import BRIEF, Kept
from ..schema import evaluations, quotes
from .tables import instrument_looks, instrument_notes, instruments, order_marks

ID_BYTES = 6


@dataclass(frozen=True, slots=True)
class Note:
    """What was noted of an instrument for a day (ISO); `by`: who wrote it."""

    id: str
    instrument: str
    on: str
    text: str
    by: str


@dataclass(frozen=True, slots=True)
class Marks:
    """What the workshop says of an order: by when (ISO day), urgent or not, when it was collected (ISO time)."""

    ready_by: str | None = None
    urgent: bool = False
    collected: str | None = None


def belongs_to(engine: Engine, evaluation: str) -> str | None:
    """The id of the instrument that was looked at."""
    query = select(instrument_looks.c.instrument).where(instrument_looks.c.evaluation == evaluation)
    with reading(engine) as connection:
        return connection.execute(query).scalar_one_or_none()


def owners(engine: Engine) -> dict[str, str]:
    """Evaluation -> instrument, for all that belong to one."""
    with reading(engine) as connection:
        rows = connection.execute(select(instrument_looks.c.evaluation, instrument_looks.c.instrument))
        return {row.evaluation: row.instrument for row in rows}


def put_to(engine: Engine, evaluation: str, instrument: str | None) -> bool:
    """Let the evaluation belong to this instrument, or to none; False where there is no such instrument."""
    with writing(engine) as connection:
        known = select(instruments.c.id).where(instruments.c.id == instrument)
        if instrument and connection.execute(known).one_or_none() is None:
            return False
        connection.execute(delete(instrument_looks).where(instrument_looks.c.evaluation == evaluation))
        if instrument:
            connection.execute(insert(instrument_looks).values(evaluation=evaluation, instrument=instrument))
        return True


def looks_at(engine: Engine, instrument: str) -> tuple[Kept, ...]:
    """The evaluations of an instrument, the newest first; their results are not read."""
    query = (
        select(*BRIEF)
        .join_from(evaluations, instrument_looks, evaluations.c.id == instrument_looks.c.evaluation)
        .where(instrument_looks.c.instrument == instrument)
        .order_by(evaluations.c.created.desc(), evaluations.c.id)
    )
    with reading(engine) as connection:
        return tuple(Kept(**row._mapping) for row in connection.execute(query))


def add_note(engine: Engine, instrument: str, on: str, text: str, by: str) -> Note:
    found = Note(secrets.token_hex(ID_BYTES), instrument, on, text[:2000], by)
    values = {"id": found.id, "instrument": instrument, "on": on, "text": found.text, "by": by}
    with writing(engine) as connection:
        connection.execute(insert(instrument_notes).values(**values))
    return found


def notes_of(engine: Engine, instrument: str) -> tuple[Note, ...]:
    query = select(instrument_notes).where(instrument_notes.c.instrument == instrument)
    with reading(engine) as connection:
        rows = connection.execute(query.order_by(instrument_notes.c.on.desc(), instrument_notes.c.id))
        return tuple(Note(**row._mapping) for row in rows)


def marks_of(engine: Engine) -> dict[str, Marks]:
    """By quote, for every order that has marks."""
    with reading(engine) as connection:
        rows = connection.execute(select(order_marks))
        return {row.quote: Marks(row.ready_by, bool(row.urgent), row.collected) for row in rows}


def mark(engine: Engine, quote: str, ready_by: str | None, urgent: bool) -> None:
    """Say by when an order is to be ready, and whether it is urgent."""
    _mark(engine, quote, {"ready_by": ready_by, "urgent": int(urgent)})


def mark_collected(engine: Engine, quote: str, at: str | None) -> None:
    """Say when an order was collected; None where it was not after all."""
    _mark(engine, quote, {"collected": at})


def _mark(engine: Engine, quote: str, values: dict[str, object]) -> None:
    with writing(engine) as connection:
        if not _is_there(connection, quote):
            connection.execute(insert(order_marks).values(quote=quote, ready_by=None, urgent=0, collected=None))
        connection.execute(update(order_marks).where(order_marks.c.quote == quote).values(**values))


def _is_there(connection: Connection, quote: str) -> bool:
    query = select(order_marks.c.quote).where(order_marks.c.quote == quote)
    return connection.execute(query).one_or_none() is not None


def open_quotes(engine: Engine, since: str, most_done: int = 200) -> tuple[str, ...]:
    """The ids of the quotes that the board shows, the oldest first: what waits or is in work, and of what is done the
    newest that were not collected before `since` (an ISO day), so that the board does not grow with the years.
    """
    waits = select(quotes.c.id, quotes.c.made, quotes.c.number).where(
        quotes.c.state.in_(("offered", "agreed", "work_begun"))
    )
    done = (
        select(quotes.c.id, quotes.c.made, quotes.c.number)
        .join_from(quotes, order_marks, quotes.c.id == order_marks.c.quote, isouter=True)
        .where(quotes.c.state == "done")
        .where(order_marks.c.collected.is_(None) | (order_marks.c.collected >= since))
        .order_by(quotes.c.made.desc())
        .limit(most_done)
    )
    with reading(engine) as connection:
        rows = [*connection.execute(waits), *connection.execute(done)]
    return tuple(row.id for row in sorted(rows, key=lambda row: (row.made, row.number)))


def served(engine: Engine, since: str) -> tuple[tuple[str, str], ...]:
    """(instrument, the day of the last work done on it), for those that had some since a day (ISO)."""
    query = (
        select(instrument_looks.c.instrument, func.max(quotes.c.changed))
        .join_from(quotes, instrument_looks, quotes.c.evaluation == instrument_looks.c.evaluation)
        .where(quotes.c.state == "done", quotes.c.changed >= since)
        .group_by(instrument_looks.c.instrument)
    )
    with reading(engine) as connection:
        return tuple((row[0], row[1][:10]) for row in connection.execute(query))
