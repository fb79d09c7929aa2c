"""Work orders in the database: begun from what was agreed, noted on at the bench, done; and what they tell of hours.

A note is made on the order as it stands in its transaction, so that nothing that another noted meanwhile is lost.
"""

from collections.abc import Callable
from dataclasses import dataclass, replace

from sqlalchemy import Connection, Engine, select, update

from ...basis.problem import Problem, problem
from ...quoting.quote import Quote
from ...quoting.records import from_data, to_data
from ...quoting.work_order import WorkOrder
from ..engine import reading, writing
from ..quotes import MESSAGES, KeptQuote, Ways, found_by, kept_from, move_second, moved_within, second_within
from ..schema import evaluations, quotes


@dataclass(frozen=True, slots=True)
class Noted:
    """Hours that one job took at the bench, for so many units; `rubric`: of the evaluation."""

    rubric: str
    job: str
    units: int
    hours: float


def begin_work(engine: Engine, identity: str, order: WorkOrder, now: str) -> KeptQuote | Problem:
    """Begin the agreed work: its order is kept, to be noted on."""
    with writing(engine) as connection:
        kept = found_by(connection, quotes.c.id == identity)
        if kept is None:
            return problem(MESSAGES, "quote.unknown")
        begun = moved_within(connection, kept, "work_begun", now)
        if isinstance(begun, KeptQuote):
            move_second(connection, kept.quote.number, {"agreed": ("work_begun",)}, now)
        return begun if isinstance(begun, Problem) else _write_work(connection, begun, order, now)


def note_work(engine: Engine, identity: str, change: Callable[[KeptQuote], WorkOrder], now: str) -> KeptQuote | Problem:
    """Change the bench's notes while the quote is in work; `change` gets them as they stand in this transaction, so
    that nothing noted meanwhile is lost.
    """
    with writing(engine) as connection:
        kept = found_by(connection, quotes.c.id == identity)
        if kept is None:
            return problem(MESSAGES, "quote.unknown")
        if kept.quote.state != "work_begun":
            return problem(MESSAGES, "quote.not_in_work", f"quote {kept.quote.number}")
        return _write_work(connection, kept, change(kept), now)


def call_done(engine: Engine, identity: str, now: str) -> KeptQuote | Problem:
    """The work is done, with that of its second quotes; refused while one of these waits for an answer."""
    with writing(engine) as connection:
        kept = found_by(connection, quotes.c.id == identity)
        if kept is None:
            return problem(MESSAGES, "quote.unknown")
        more = second_within(connection, kept.quote.number)
        waiting = next((one for one in more if one.quote.state == "offered"), None)
        if waiting is not None:
            return problem(MESSAGES, "quote.waits", f"quote {waiting.quote.number}")
        done = moved_within(connection, kept, "done", now)
        if isinstance(done, KeptQuote):
            ways: Ways = {"draft": ("withdrawn",), "agreed": ("work_begun", "done"), "work_begun": ("done",)}
            move_second(connection, kept.quote.number, ways, now)
        return done


def hours_noted(engine: Engine) -> tuple[Noted, ...]:
    """Every job with hours of the orders that are done, in the order in which the quotes were made."""
    query = (
        select(quotes.c.work, evaluations.c.rubric)
        .join_from(quotes, evaluations)
        .where(quotes.c.state == "done")
        .order_by(quotes.c.made, quotes.c.number)
    )
    with reading(engine) as connection:
        return tuple(
            Noted(row.rubric, task.job, task.units, task.hours)
            for row in connection.execute(query)
            for task in (from_data(WorkOrder, row.work).tasks if row.work else ())
            if task.hours
        )


def done_orders(engine: Engine) -> tuple[tuple[Quote, tuple[Quote, ...]], ...]:
    """The quotes whose work is done, each with the second quotes that the customer was asked, by their numbers."""
    with reading(engine) as connection:
        found = connection.execute(select(quotes).where(quotes.c.state == "done").order_by(quotes.c.number))
        done = [kept.quote for row in found.all() if not (kept := kept_from(connection, row)).quote.belongs_to]
        return tuple(
            (one, tuple(more.quote for more in second_within(connection, one.number) if more.quote.state != "draft"))
            for one in done
        )


def _write_work(connection: Connection, kept: KeptQuote, order: WorkOrder, now: str) -> KeptQuote:
    connection.execute(update(quotes).where(quotes.c.id == kept.id).values(work=to_data(order), changed=now))
    return replace(kept, work=order, changed=now)
