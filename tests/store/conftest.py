"""Every test of the store runs on both databases: SQLite's file, and a PostgreSQL server of the run's own."""

import pkgutil
import shutil
from collections.abc import Iterator
from importlib import import_module
from pathlib import Path

import pytest
from sqlalchemy import Engine

import evaluator.store
from evaluator.store.engine import open_database
from tests.postgres import Server

# Each room names its own tables: all of them are known once every module is.
for _module in pkgutil.walk_packages(evaluator.store.__path__, "evaluator.store."):
    if ".migrations" not in _module.name:
        import_module(_module.name)


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
def engine(where: Path | str, tables: Path) -> Iterator[Engine]:
    if isinstance(where, Path):
        where.parent.mkdir(parents=True)
        shutil.copy(tables, where)
    found = open_database(where)
    yield found
    found.dispose()
