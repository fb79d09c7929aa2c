"""Tokens of programs: made by the owner, each for named things only (`scopes`), kept as a hash, withdrawn at once.

`answered` keeps what a request with a key was answered with, so that sending it again makes nothing twice.
"""

import secrets
from dataclasses import dataclass
from datetime import timedelta

from sqlalchemy import Engine, delete, insert, select, update
from sqlalchemy.exc import IntegrityError

from ..engine import reading, writing
from ..people import TOKEN_BYTES, hashed, later
from ..schema import answered, tokens

KEY_HOLDS = timedelta(days=1)
PREFIX = "evt_"  # so that whoever finds one in a file or a log knows what it is
LEAST = "2000-01-01T00:00:00+00:00"


@dataclass(frozen=True, slots=True)
class Token:
    """A program's token. `ends`: None for one that holds until it is withdrawn; `used`: the last day of use."""

    token_hash: str
    label: str
    scopes: list[str]
    made: str
    ends: str | None
    withdrawn: str | None
    used: str | None

    def holds(self, now: str) -> bool:
        return self.withdrawn is None and (self.ends is None or now < self.ends)


@dataclass(frozen=True, slots=True)
class Answered:
    """What a request with this key was answered with; `status` is None while it is still at work."""

    asked: str
    status: int | None
    body: object
    location: str | None


def make_token(engine: Engine, label: str, scopes: tuple[str, ...], now: str, days: int | None = None) -> str:
    """A new token; it is given here once and kept nowhere."""
    token = PREFIX + secrets.token_urlsafe(TOKEN_BYTES)
    values = {"label": label[:80], "scopes": list(scopes), "made": now, "withdrawn": None, "used": None}
    ends = None if days is None else later(now, timedelta(days=days))
    with writing(engine) as connection:
        connection.execute(insert(tokens).values(token_hash=hashed(token), ends=ends, **values))
    return token


def find_token(engine: Engine, token: str, now: str) -> Token | None:
    """The token, where it holds; the day of its use is noted once a day."""
    with reading(engine) as connection:
        row = connection.execute(select(tokens).where(tokens.c.token_hash == hashed(token))).one_or_none()
    found = None if row is None else Token(**row._mapping)
    if found is None or not found.holds(now):
        return None
    if found.used != now[:10]:
        with writing(engine) as connection:
            query = update(tokens).where(tokens.c.token_hash == found.token_hash)
            connection.execute(query.values(used=now[:10]))
    return found


def all_tokens(engine: Engine) -> tuple[Token, ...]:
    """Those that were not withdrawn, the newest first."""
    query = select(tokens).where(tokens.c.withdrawn.is_(None)).order_by(tokens.c.made.desc(), tokens.c.token_hash)
    with reading(engine) as connection:
        return tuple(Token(**row._mapping) for row in connection.execute(query))


def withdraw_token(engine: Engine, token_hash: str, now: str) -> str:
    """End a token at once; gives its label, empty where there is none."""
    with writing(engine) as connection:
        row = connection.execute(select(tokens).where(tokens.c.token_hash == token_hash)).one_or_none()
        if row is None or row.withdrawn is not None:
            return ""
        connection.execute(update(tokens).where(tokens.c.token_hash == token_hash).values(withdrawn=now))
        return str(row.label)


def begin_answer(engine: Engine, token_hash: str, key: str, asked: str, now: str) -> Answered | None:
    """Take a key for a request (`asked`: a hash of it); what was answered before, or None where this is the first."""
    with writing(engine) as connection:
        old = answered.c.made < _before(now)
        connection.execute(delete(answered).where(old))
    try:
        with writing(engine) as connection:
            connection.execute(insert(answered).values(token_hash=token_hash, key=key, asked=asked, made=now))
    except IntegrityError:
        with reading(engine) as connection:
            here = (answered.c.token_hash == token_hash) & (answered.c.key == key)
            row = connection.execute(select(answered).where(here)).one_or_none()
        if row is None:  # it failed meanwhile, and may be tried anew
            return begin_answer(engine, token_hash, key, asked, now)
        return Answered(row.asked, row.status, row.body, row.location)
    return None


def end_answer(engine: Engine, token_hash: str, key: str, status: int, body: object, location: str | None) -> None:
    """Keep what a request was answered with; one that was refused frees its key."""
    here = (answered.c.token_hash == token_hash) & (answered.c.key == key)
    with writing(engine) as connection:
        if status >= 300:
            connection.execute(delete(answered).where(here))
        else:
            connection.execute(update(answered).where(here).values(status=status, body=body, location=location))


def request_hash(method: str, path: str, body: bytes) -> str:
    """What two requests that are the same have alike."""
    return hashed(f"{method} {path} {hashed(body.hex())}")


def _before(now: str) -> str:
    return max(LEAST, later(now, -KEY_HOLDS))
