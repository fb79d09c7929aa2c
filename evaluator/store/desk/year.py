"""What was kept in a year, for its figures: finished evaluations, quotes with their answers and the bench's notes."""

from collections.abc import Iterator
from dataclasses import replace

from sqlalchemy import Engine, func, select

from ...quoting.consent import Consent
from ...quoting.quote import Quote
from ...quoting.records import from_data
from ...quoting.work_order import WorkOrder
from ...yearly.trade import Order
from ..engine import reading
from ..evaluations import FINISHED, WHOLE, Kept
from ..schema import consents, evaluations, quotes


def years(engine: Engine) -> tuple[str, ...]:
    """The years in which something was finished, the newest first."""
    year = func.substr(evaluations.c.changed, 1, 4)
    query = select(year).where(evaluations.c.state == FINISHED).distinct()
    with reading(engine) as connection:
        return tuple(sorted(connection.execute(query).scalars(), reverse=True))


def mark(engine: Engine) -> tuple[int, str, int, str]:
    """What tells that something changed: how many evaluations and quotes, and when the last of each did."""
    with reading(engine) as connection:
        found = connection.execute(select(func.count(), func.max(evaluations.c.changed)).select_from(evaluations)).one()
        other = connection.execute(select(func.count(), func.max(quotes.c.changed)).select_from(quotes)).one()
    return found[0], found[1] or "", other[0], other[1] or ""


def finished_in(engine: Engine, year: str) -> Iterator[Kept]:
    """The evaluations that were finished in a year, one in memory at a time."""
    query = select(evaluations.c.id).where(evaluations.c.state == FINISHED, evaluations.c.changed.like(f"{year}%"))
    with reading(engine) as connection:
        ids = list(connection.execute(query.order_by(evaluations.c.changed, evaluations.c.id)).scalars())
    for identity in ids:
        with reading(engine) as connection:
            row = connection.execute(select(*WHOLE).where(evaluations.c.id == identity)).one()
        yield Kept(**row._mapping)


def finished_again(engine: Engine) -> Iterator[tuple[Kept, Kept]]:
    """Every finished evaluation that was begun as another look at a finished one, behind that one."""
    query = select(evaluations.c.id, evaluations.c.made_from).where(
        evaluations.c.state == FINISHED, evaluations.c.made_from.is_not(None)
    )
    with reading(engine) as connection:
        pairs = [(row.made_from, row.id) for row in connection.execute(query.order_by(evaluations.c.changed))]
    for first, then in pairs:
        with reading(engine) as connection:
            rows = connection.execute(select(*WHOLE).where(evaluations.c.id.in_((first, then))))
            found = {row.id: Kept(**row._mapping) for row in rows}
        if first in found and found[first].state == FINISHED:
            yield found[first], found[then]


def orders_of(engine: Engine, year: str = "") -> tuple[Order, ...]:
    """The quotes that were changed last in a year, or all."""
    query = select(quotes).order_by(quotes.c.made, quotes.c.number)
    if year:
        query = query.where(quotes.c.changed.like(f"{year}%"))
    with reading(engine) as connection:
        rows = connection.execute(query).all()
        chains = connection.execute(select(consents).order_by(consents.c.quote, consents.c.place)).all()
    found = []
    for row in rows:
        chain = tuple(from_data(Consent, one.record) for one in chains if one.quote == row.id)
        work = from_data(WorkOrder, row.work) if row.work else None
        found.append(Order(replace(from_data(Quote, row.record), state=row.state), chain, work))
    return tuple(found)
