"""What is said to a server, held against what distributed engines of PostgreSQL's protocol refuse.

`REFUSED` names what at least one of them refuses by its published list of differences (docs.yugabyte.com "PostgreSQL
compatibility" and scaleway.com "Known differences", read in 2026) or, where no list says it, from memory: it must never
be said. `NEEDED` names what is said and not every engine has, with what stands in its place there; it must be complete,
so a new statement that wants more than these fails here.
"""

import re
from collections.abc import Iterator

import pytest
from sqlalchemy import Engine, event

from evaluator.store.engine import newest_form, open_database
from evaluator.store.evaluations import find
from evaluator.store.finding.listing import listed
from evaluator.store.keeping.backup import back_up
from evaluator.store.keeping.moving import move
from evaluator.store.people import last_deeds
from evaluator.store.records import Records
from evaluator.store.workshop.orders import done_orders, hours_noted
from tests.postgres import Server
from tests.store.filled import NOW, fill

REFUSED = {
    "locks without a row": r"advisory_|\bLOCK TABLE\b",
    "messages between sessions": r"\b(LISTEN|NOTIFY|UNLISTEN)\b",
    "temporary or unlogged tables": r"\b(TEMP|TEMPORARY|UNLOGGED)\b",
    "constraints that wait for the end": r"\b(NOT )?DEFERRABLE\b|\bSET CONSTRAINTS\b",
    "constraints that exclude": r"\bEXCLUDE USING\b",
    "tables that inherit": r"\bINHERITS\b",
    "queues by skipped locks": r"\bSKIP LOCKED\b|\bNOWAIT\b",
    "cursors that outlive their transaction": r"\bWITH HOLD\b|\bMOVE BACKWARD\b|\bSCROLL CURSOR\b",
    "transactions in two steps": r"\bPREPARE TRANSACTION\b",
    "bulk loading": r"\bCOPY\b.*\b(FROM|TO)\b",
    "large objects and types of one's own": r"\blo_|\bCREATE (TYPE|DOMAIN|CAST|OPERATOR|RULE|EXTENSION)\b",
    "other indexes than trees": r"\bUSING (gist|gin|hash|brin|spgist)\b",
    "columns that are computed": r"\bGENERATED ALWAYS AS\b\s*\(",
    "views that are kept": r"\bMATERIALIZED VIEW\b",
    "table's and row's own places": r"\b(ctid|xmin|oid)\b",
    "tables made of an answer": r"\bCREATE TABLE\b.*\bAS\s+SELECT\b|\bSELECT\b.*\bINTO\b\s+\w+\s+FROM\b",
    "emptying without rows": r"\bTRUNCATE\b",
    "XML and text search": r"\bxml\w*\(|\bto_tsvector\b|\btsquery\b",
}
NEEDED = {
    # What refuses to rewrite what was agreed. Where there are no triggers, leave these two kinds of statement out of
    # the migrations: `verify` finds a changed consent by its chain, and bills by theirs, after the fact.
    "triggers and their functions": r"\bCREATE (FUNCTION|TRIGGER)\b",
    # One writer at a time. Where rows are not locked, the engine has serializable transactions: try again on 40001.
    "a locked row": r"\bFOR UPDATE\b",
    # Four columns are searched inside their JSON. Where there is no JSON type, a column of its own each.
    "JSON in a column": r"\bJSON\b|->>?",
    # Where references are refused the program still writes in their order; `verify` looks for loose rows.
    "references between tables": r"\bFOREIGN KEY\b",
    # The deeds are numbered by the server and listed in that order: gaps do no harm, numbers out of order would.
    "numbers given by the server": r"\bSERIAL\b|\bsetval\b",
}
# One view of the state for readers: set by the driver, not said as a statement of ours. An engine may give more.
KNOWN = re.compile(
    r"^\s*(SELECT|INSERT|UPDATE|DELETE|CREATE (TABLE|UNIQUE INDEX|INDEX|FUNCTION|TRIGGER)|ALTER TABLE|DROP INDEX"
    r"|BEGIN|COMMIT|ROLLBACK|SHOW|SET)\b"
)
pytestmark = pytest.mark.postgres


@pytest.fixture(scope="module")
def said(server: Server, tmp_path_factory: pytest.TempPathFactory) -> Iterator[tuple[str, ...]]:
    """Every statement of a walk on a server: tables made, records of everything, lists, a backup, a move in and out."""
    heard: list[str] = []

    def hear(_one: object, _cursor: object, statement: str, *_rest: object) -> None:
        heard.append(statement)

    event.listen(Engine, "before_cursor_execute", hear)
    folder = tmp_path_factory.mktemp("walk")
    here, there = Records(folder / "here", server.empty()), Records(folder / "there", server.empty())
    engine = open_database(here.database)
    try:
        filled = fill(engine, here)
        assert find(engine, filled.draft) is not None
        listed(engine, count=5)
        last_deeds(engine)
        hours_noted(engine), done_orders(engine)
        back_up(engine, here, folder / "kept.zip", NOW)
        engine.dispose()
        move(here, there)
        yield tuple(one for one in heard if "pg_catalog" not in one)  # the library looks which tables there are
    finally:
        event.remove(Engine, "before_cursor_execute", hear)
        engine.dispose()
        for one in (here, there):
            server.drop(str(one.database))


def places(said: tuple[str, ...], pattern: str) -> list[str]:
    found = re.compile(pattern, re.IGNORECASE | re.DOTALL)
    return [one for one in said if found.search(re.sub(r"'[^']*'", "''", one))]


@pytest.mark.parametrize("what", sorted(REFUSED))
def test_nothing_is_said_that_such_an_engine_refuses(said: tuple[str, ...], what: str) -> None:
    assert places(said, REFUSED[what]) == []


@pytest.mark.parametrize("what", sorted(NEEDED))
def test_what_is_needed_beyond_the_plainest_is_named(said: tuple[str, ...], what: str) -> None:
    assert places(said, NEEDED[what]), "no longer needed: strike it off"


def test_the_walk_is_a_whole_one_and_says_only_kinds_that_are_known(said: tuple[str, ...]) -> None:
    assert len(said) > 150 and len(places(said, r"\bCREATE TABLE\b")) > 20
    assert any(newest_form() in one or "alembic_version" in one for one in said)
    assert [one for one in said if not KNOWN.match(one)] == []


def test_a_pattern_finds_what_it_names() -> None:
    tried = (
        "SELECT pg_advisory_lock(1)",
        "NOTIFY x",
        "CREATE TEMP TABLE x (y int)",
        "UNIQUE (x) DEFERRABLE",
        "EXCLUDE USING gist (x WITH =)",
        "CREATE TABLE x () INHERITS (y)",
        "SELECT 1 FOR UPDATE SKIP LOCKED",
        "DECLARE c CURSOR WITH HOLD FOR SELECT 1",
        "PREPARE TRANSACTION 'x'",
        "COPY x FROM STDIN",
        "CREATE TYPE x AS ()",
        "x int GENERATED ALWAYS AS (y) STORED",
        "CREATE MATERIALIZED VIEW x AS SELECT",
        "SELECT ctid FROM x",
        "CREATE TABLE x AS SELECT 1",
        "TRUNCATE x",
        "SELECT to_tsvector(x)",
    )
    met = {what for what, pattern in REFUSED.items() if places(tried, pattern)}
    assert met == set(REFUSED)
