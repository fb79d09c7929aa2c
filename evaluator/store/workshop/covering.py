"""The covering paragraph of an evaluation's papers, as the luthier left it."""

from dataclasses import dataclass

from sqlalchemy import Engine, delete, insert, select

from ..engine import reading, writing
from .tables import coverings


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
