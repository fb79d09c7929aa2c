"""Who may come in: people with a password, sessions that can be withdrawn, one-time codes, and what was done.

Only hashes of tokens and codes are kept: whoever reads the database cannot come in with what is in it.
"""

import hashlib
import secrets
from dataclasses import dataclass
from datetime import datetime, timedelta

from sqlalchemy import Engine, insert, select, update
from sqlalchemy.exc import IntegrityError

from .engine import reading, writing
from .schema import codes, deeds, people, sessions

TOKEN_BYTES = 24
# No letters or digits that are taken for each other when they are read from a screen.
CODE_LETTERS = "ABCDEFGHJKMNPQRSTUVWXYZ23456789"
CODE_LENGTH = 8
CODE_HOLDS = timedelta(minutes=20)
SESSION_HOLDS = timedelta(days=30)
ROLES = ("owner", "luthier", "assistant", "phone")


@dataclass(frozen=True, slots=True)
class Person:
    """Somebody with a name of their own here; `left` is when they were taken off (ISO time), None while they belong."""

    id: str
    name: str
    role: str
    password_hash: str
    made: str
    left: str | None


@dataclass(frozen=True, slots=True)
class Session:
    """One browser that is in: whose it is (`person`, None for a phone let in by a code), and until when."""

    token_hash: str
    person: str | None
    label: str
    role: str
    made: str
    ends: str
    withdrawn: str | None


@dataclass(frozen=True, slots=True)
class Deed:
    id: int
    at: str
    who: str
    what: str
    about: str


def hashed(token: str) -> str:
    """SHA-256 of a token or code, in hexadecimal."""
    return hashlib.sha256(token.encode()).hexdigest()


def later(now: str, by: timedelta) -> str:
    """An ISO time `by` after another."""
    return (datetime.fromisoformat(now) + by).isoformat(timespec="microseconds")


def make_code(engine: Engine, role: str, now: str) -> str:
    """A code that lets one browser in as `role`, once, for twenty minutes: eight letters in two groups."""
    code = "".join(secrets.choice(CODE_LETTERS) for _ in range(CODE_LENGTH))
    with writing(engine) as connection:
        connection.execute(insert(codes).values(code_hash=hashed(code), role=role, ends=later(now, CODE_HOLDS)))
    return f"{code[:4]}-{code[4:]}"


def use_code(engine: Engine, typed: str, now: str) -> str | None:
    """The role that a code lets in as, used up with this; None where it is wrong, old or used."""
    code = "".join(letter for letter in typed.upper() if letter.isalnum())
    with writing(engine) as connection:
        row = connection.execute(select(codes).where(codes.c.code_hash == hashed(code))).one_or_none()
        if row is None or row.used is not None or _over(row.ends, now):
            return None
        connection.execute(update(codes).where(codes.c.code_hash == row.code_hash).values(used=now))
        return str(row.role)


def begin_session(engine: Engine, role: str, label: str, now: str, person: str | None = None) -> str:
    """Let a browser in; gives the token that its cookie holds."""
    token = secrets.token_urlsafe(TOKEN_BYTES)
    values = {"token_hash": hashed(token), "person": person, "label": label[:80], "role": role, "made": now}
    with writing(engine) as connection:
        connection.execute(insert(sessions).values(**values, ends=later(now, SESSION_HOLDS)))
    return token


def session_of(engine: Engine, token: str, now: str) -> Session | None:
    """The session behind a cookie, while it holds: not withdrawn, not over, and its person still belongs here."""
    with reading(engine) as connection:
        row = connection.execute(select(sessions).where(sessions.c.token_hash == hashed(token))).one_or_none()
        if row is None or row.withdrawn is not None or _over(row.ends, now):
            return None
        if row.person is None:
            return Session(**row._mapping)
        owner = connection.execute(select(people).where(people.c.id == row.person)).one_or_none()
    if owner is None or owner.left is not None:
        return None
    return Session(**{**row._mapping, "role": owner.role})


def withdraw_session(engine: Engine, token_hash: str, now: str) -> None:
    """Show a browser out; one that is out already stays as it was."""
    with writing(engine) as connection:
        connection.execute(
            update(sessions).where(sessions.c.token_hash == token_hash, sessions.c.withdrawn.is_(None)).values(
                withdrawn=now
            )
        )  # fmt: skip


def sessions_now(engine: Engine, now: str) -> tuple[Session, ...]:
    """The browsers that are in, the newest first."""
    with reading(engine) as connection:
        rows = connection.execute(
            select(sessions).where(sessions.c.withdrawn.is_(None)).order_by(sessions.c.made.desc())
        )
        return tuple(Session(**row._mapping) for row in rows if not _over(row.ends, now))


def add_person(engine: Engine, name: str, role: str, password_hash: str, now: str) -> Person | None:
    """A new person; None where somebody has the name already."""
    person = Person(secrets.token_hex(6), name, role, password_hash, now, None)
    try:
        with writing(engine) as connection:
            connection.execute(
                insert(people).values(
                    id=person.id, name=name, role=role, password_hash=password_hash, made=now, left=None
                )
            )
    except IntegrityError:
        return None
    return person


def find_person(engine: Engine, name: str) -> Person | None:
    """The person of this name who belongs here."""
    with reading(engine) as connection:
        row = connection.execute(select(people).where(people.c.name == name, people.c.left.is_(None))).one_or_none()
    return None if row is None else Person(**row._mapping)


def everybody(engine: Engine) -> tuple[Person, ...]:
    """All who belong here, by name."""
    with reading(engine) as connection:
        rows = connection.execute(select(people).where(people.c.left.is_(None)).order_by(people.c.name))
        return tuple(Person(**row._mapping) for row in rows)


def take_off(engine: Engine, identity: str, now: str) -> bool:
    """Take a person off; False where that would leave no owner."""
    with writing(engine) as connection:
        owners = connection.execute(select(people.c.id).where(people.c.role == "owner", people.c.left.is_(None)))
        if [row.id for row in owners] == [identity]:
            return False
        connection.execute(update(people).where(people.c.id == identity).values(left=now))
        return True


def note_deed(engine: Engine, at: str, who: str, what: str, about: str) -> None:
    """Keep who did what."""
    with writing(engine) as connection:
        connection.execute(insert(deeds).values(at=at, who=who[:80], what=what[:80], about=about[:200]))


def last_deeds(engine: Engine, count: int = 100) -> tuple[Deed, ...]:
    """What was done last, the newest first."""
    with reading(engine) as connection:
        rows = connection.execute(select(deeds).order_by(deeds.c.id.desc()).limit(count))
        return tuple(Deed(**row._mapping) for row in rows)


def _over(ends: str, now: str) -> bool:
    return datetime.fromisoformat(ends) <= datetime.fromisoformat(now)
