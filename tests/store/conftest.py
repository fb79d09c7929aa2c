"""Every test of the store runs on both databases: SQLite's file, and a PostgreSQL server of the run's own."""

from collections.abc import Iterator
from pathlib import Path

import pytest
from sqlalchemy import Engine

from evaluator.store.engine import open_database
from tests.postgres import Server, running


@pytest.fixture(scope="session")
def server() -> Iterator[Server]:
    with running() as found:
        yield found


@pytest.fixture(params=["sqlite", pytest.param("postgresql", marks=pytest.mark.postgres)])
def where(request: pytest.FixtureRequest, tmp_path: Path) -> Iterator[Path | str]:
    """The path or the address of a database without anything in it."""
    if request.param == "sqlite":
        yield tmp_path / "deep" / "kept.sqlite"
        return
    server: Server = request.getfixturevalue("server")
    address = server.fresh()
    yield address
    server.drop(address)


@pytest.fixture
def engine(where: Path | str) -> Iterator[Engine]:
    found = open_database(where)
    yield found
    found.dispose()
