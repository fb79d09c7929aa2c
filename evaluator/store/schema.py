"""The tables. `typed` is what was typed, as typed; `snapshot` the frozen result of a finished evaluation; `sorted_as`
how a name stands in a list.
"""

from collections.abc import Callable, Mapping
from typing import Protocol

from sqlalchemy import JSON, Column, ForeignKey, Integer, MetaData, String, Table

NAMING = {
    "ix": "ix_%(column_0_label)s",
    "uq": "uq_%(table_name)s_%(column_0_name)s",
    "ck": "ck_%(table_name)s_%(constraint_name)s",
    "fk": "fk_%(table_name)s_%(column_0_name)s_%(referred_table_name)s",
    "pk": "pk_%(table_name)s",
}
metadata = MetaData(naming_convention=NAMING)
SORTED_LETTERS = 80


def as_sorted(name: str) -> str:
    """A name without capitals, as far as it counts for the order of a list."""
    return name.lower()[:SORTED_LETTERS]


class Inserting(Protocol):
    """A row that is about to be written, as the library hands it to a default."""

    def get_current_parameters(self) -> Mapping[str, str]: ...


def sorted_as(column: str) -> Callable[[Inserting], str]:
    """The default of a column that follows from the name in another one of the same row."""
    return lambda context: as_sorted(context.get_current_parameters()[column])


evaluations = Table(
    "evaluations",
    metadata,
    Column("id", String(16), primary_key=True),
    Column("version", Integer, nullable=False),
    Column("title", String(400), nullable=False),
    Column("rubric", String(60), nullable=False),
    Column("state", String(16), nullable=False),
    Column("created", String(32), nullable=False),
    Column("changed", String(32), nullable=False),
    Column("typed", JSON, nullable=False),
    Column("snapshot", JSON),
    Column("rubric_hash", String(64)),
    Column("made_from", String(16)),
    Column("sorted_as", String(SORTED_LETTERS), nullable=False, default=sorted_as("title")),
)

# `record` is the frozen pure record; `token_hash` the SHA-256 of the private link's token; `work` the bench's notes.
quotes = Table(
    "quotes",
    metadata,
    Column("id", String(16), primary_key=True),
    Column("number", String(16), nullable=False, unique=True),
    Column("evaluation", String(16), ForeignKey("evaluations.id"), nullable=False, index=True),
    Column("state", String(16), nullable=False),
    Column("token_hash", String(64), unique=True),
    Column("valid_until", String(10), nullable=False),
    Column("made", String(32), nullable=False),
    Column("changed", String(32), nullable=False),
    Column("record", JSON, nullable=False),
    Column("work", JSON),
)

consents = Table(
    "consents",
    metadata,
    Column("quote", String(16), ForeignKey("quotes.id"), primary_key=True),
    Column("place", Integer, primary_key=True),
    Column("record", JSON, nullable=False),
)

# `record` is the sale as plain values, without its id.
known_sales = Table(
    "known_sales",
    metadata,
    Column("id", String(16), primary_key=True),
    Column("version", Integer, nullable=False),
    Column("changed", String(32), nullable=False),
    Column("sold_on", String(10), nullable=False),
    Column("record", JSON, nullable=False),
)

# What holds for the whole shop, by name.
choices = Table(
    "choices",
    metadata,
    Column("name", String(60), primary_key=True),
    Column("value", String(200), nullable=False),
)

# Who may come in. Tokens and codes are kept as SHA-256, passwords as Argon2; `left`, `withdrawn`, `used`: ISO times.
people = Table(
    "people",
    metadata,
    Column("id", String(16), primary_key=True),
    Column("name", String(80), nullable=False, unique=True),
    Column("role", String(16), nullable=False),
    Column("password_hash", String(200), nullable=False),
    Column("made", String(32), nullable=False),
    Column("left", String(32)),
)

sessions = Table(
    "sessions",
    metadata,
    Column("token_hash", String(64), primary_key=True),
    Column("person", String(16), ForeignKey("people.id")),
    Column("label", String(80), nullable=False),
    Column("role", String(16), nullable=False),
    Column("made", String(32), nullable=False),
    Column("ends", String(32), nullable=False),
    Column("withdrawn", String(32)),
)

codes = Table(
    "codes",
    metadata,
    Column("code_hash", String(64), primary_key=True),
    Column("role", String(16), nullable=False),
    Column("ends", String(32), nullable=False),
    Column("used", String(32)),
)

guest_links = Table(
    "guest_links",
    metadata,
    Column("token_hash", String(64), primary_key=True),
    Column("evaluation", String(16), ForeignKey("evaluations.id"), nullable=False, index=True),
    Column("looks", JSON, nullable=False),
    Column("label", String(80), nullable=False),
    Column("made", String(32), nullable=False),
    Column("ends", String(32), nullable=False),
    Column("withdrawn", String(32)),
)

deeds = Table(
    "deeds",
    metadata,
    Column("id", Integer, primary_key=True),
    Column("at", String(32), nullable=False),
    Column("who", String(80), nullable=False),
    Column("what", String(80), nullable=False),
    Column("about", String(200), nullable=False),
)

# Programs: tokens as SHA-256, `scopes` a list of words. `answered`: what a request with a key was answered with.
tokens = Table(
    "tokens",
    metadata,
    Column("token_hash", String(64), primary_key=True),
    Column("label", String(80), nullable=False),
    Column("scopes", JSON, nullable=False),
    Column("made", String(32), nullable=False),
    Column("ends", String(32)),
    Column("withdrawn", String(32)),
    Column("used", String(10)),
)

answered = Table(
    "answered",
    metadata,
    Column("token_hash", String(64), primary_key=True),
    Column("key", String(100), primary_key=True),
    Column("asked", String(64), nullable=False),
    Column("made", String(32), nullable=False),
    Column("status", Integer),
    Column("body", JSON),
    Column("location", String(200)),
)
