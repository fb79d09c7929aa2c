"""What people write beside the figures: the covering paragraph of an evaluation's papers, as the luthier left it; and
a customer's questions and remarks on the lines of a quote, with the workshop's answers.
"""

import secrets
from dataclasses import dataclass

from sqlalchemy import Engine, delete, func, insert, select

from ...basis.problem import Message, Messages, Problem, problem
from ..engine import reading, writing
from .tables import coverings, remarks

ID_BYTES = 3
MOST_TEXT, MOST_ON_A_QUOTE = 1000, 60
MESSAGES: Messages = {
    "remark.nothing": Message("nothing is written.", "Write your question or remark, then send it."),
    "remark.many": Message("there are many remarks on it already.", "Call the workshop; that is quicker."),
}


@dataclass(frozen=True, slots=True)
class Covering:
    """`version`: of the evaluation when it was written."""

    text: str
    version: int
    changed: str
    by: str


def covering_of(engine: Engine, evaluation: str) -> Covering | None:
    """What stands on its papers; None where nothing does."""
    with reading(engine) as connection:
        row = connection.execute(select(coverings).where(coverings.c.evaluation == evaluation)).one_or_none()
    return None if row is None else Covering(row.text, row.version, row.changed, row.by)


def keep_covering(engine: Engine, evaluation: str, text: str, version: int, now: str, by: str) -> None:
    """Keep it in the place of what was there; an empty text takes it off."""
    with writing(engine) as connection:
        connection.execute(delete(coverings).where(coverings.c.evaluation == evaluation))
        if text:
            values = {"evaluation": evaluation, "text": text, "version": version, "changed": now, "by": by}
            connection.execute(insert(coverings).values(**values))


@dataclass(frozen=True, slots=True)
class Remark:
    """One of them, for a line (`job`, empty for all of it); `ours`: the workshop wrote it."""

    job: str
    text: str
    by: str
    ours: bool
    at: str


def add_remark(engine: Engine, quote: str, job: str, text: str, by: str, ours: bool, now: str) -> Problem | None:
    """Keep it; or what speaks against it."""
    written = text.strip()[:MOST_TEXT]
    if not written:
        return problem(MESSAGES, "remark.nothing")
    with writing(engine) as connection:
        count = connection.execute(select(func.count()).where(remarks.c.quote == quote)).scalar_one()
        if count >= MOST_ON_A_QUOTE and not ours:
            return problem(MESSAGES, "remark.many")
        identity = f"{count + 1:06d}{secrets.token_hex(ID_BYTES)}"  # those of one moment stay in their order
        values = {"id": identity, "quote": quote, "job": job[:80], "text": written}
        connection.execute(insert(remarks).values(**values, by=by[:80], ours=int(ours), at=now))
    return None


def remarks_of(engine: Engine, quote: str) -> dict[str, tuple[Remark, ...]]:
    """By line, in the order in which they were written."""
    query = select(remarks).where(remarks.c.quote == quote).order_by(remarks.c.at, remarks.c.id)
    found: dict[str, tuple[Remark, ...]] = {}
    with reading(engine) as connection:
        for row in connection.execute(query):
            one = Remark(row.job, row.text, row.by, bool(row.ours), row.at)
            found[row.job] = (*found.get(row.job, ()), one)
    return found


def waiting(engine: Engine) -> frozenset[str]:
    """The ids of the quotes on which a customer has the last word somewhere."""
    query = select(remarks).order_by(remarks.c.at, remarks.c.id)
    last: dict[tuple[str, str], bool] = {}
    with reading(engine) as connection:
        for row in connection.execute(query):
            last[row.quote, row.job] = bool(row.ours)
    return frozenset(quote for (quote, _), ours in last.items() if not ours)
