"""Private links for guests: named looks of one instrument, for somebody without an account; each ends by itself and can
be withdrawn.
"""

import secrets
from dataclasses import dataclass
from datetime import timedelta

from sqlalchemy import Engine, insert, select, update

from .engine import reading, writing
from .people import TOKEN_BYTES, hashed, later
from .schema import guest_links

LINK_HOLDS = timedelta(days=14)


@dataclass(frozen=True, slots=True)
class GuestLink:
    """A link to named looks (`looks`, ids of checks) of one evaluation; `label` says for whom it was made."""

    token_hash: str
    evaluation: str
    looks: list[str]
    label: str
    made: str
    ends: str
    withdrawn: str | None

    def holds(self, now: str) -> bool:
        return self.withdrawn is None and now < self.ends


def make_link(engine: Engine, evaluation: str, looks: tuple[str, ...], label: str, now: str) -> str:
    """A new link; gives its token, which is kept nowhere."""
    token = secrets.token_urlsafe(TOKEN_BYTES)
    values = {"evaluation": evaluation, "looks": list(looks), "label": label[:80], "made": now}
    with writing(engine) as connection:
        connection.execute(
            insert(guest_links).values(token_hash=hashed(token), ends=later(now, LINK_HOLDS), withdrawn=None, **values)
        )
    return token


def find_link(engine: Engine, token: str) -> GuestLink | None:
    with reading(engine) as connection:
        row = connection.execute(select(guest_links).where(guest_links.c.token_hash == hashed(token))).one_or_none()
    return None if row is None else GuestLink(**row._mapping)


def links_of(engine: Engine, evaluation: str) -> tuple[GuestLink, ...]:
    """All links that were made for an evaluation, the newest first."""
    with reading(engine) as connection:
        rows = connection.execute(
            select(guest_links).where(guest_links.c.evaluation == evaluation).order_by(guest_links.c.made.desc())
        )
        return tuple(GuestLink(**row._mapping) for row in rows)


def withdraw_link(engine: Engine, evaluation: str, token_hash: str, now: str) -> None:
    """End a link of this evaluation at once; one that has ended stays as it was."""
    with writing(engine) as connection:
        connection.execute(
            update(guest_links)
            .where(
                guest_links.c.token_hash == token_hash,
                guest_links.c.evaluation == evaluation,
                guest_links.c.withdrawn.is_(None),
            )
            .values(withdrawn=now)
        )
