"""A finished evaluation with many faults, its quote, and a shop whose tax, deposit and rounding all show."""

import hashlib
import sqlite3
from collections.abc import Callable, Hashable
from contextlib import closing
from dataclasses import dataclass, field, replace
from decimal import Decimal
from pathlib import Path

import pytest
import yaml
from sqlalchemy import Engine, text

from evaluator.result.json_form import result_json
from evaluator.rubric.shop import Deposit, Shop, Tax
from evaluator.store.evaluations import create, find, finish
from evaluator.store.folders import rubrics_folder
from evaluator.web.service import Service
from tests.web.conftest import NOW, Client
from tests.web.quoting.steps import link_of, made


@pytest.fixture
def taxed(shop: Shop) -> Shop:
    """A shop whose tax, deposit and rounding all show in a total."""
    update = {
        "tax": Tax(labour=0.0825, parts=0.19),
        "rounding": "five_cents",
        "deposits": (Deposit(from_total=Decimal(200), share=0.25),),
    }
    return shop.model_copy(update=update)


@pytest.fixture
def service(service: Service, taxed: Shop) -> Service:
    return replace(service, shop=taxed)


@dataclass(frozen=True)
class Reached:
    """Records as they stand after a step that most tests of quotes begin with: taken once a worker, then laid into the
    records of each test that comes to it from where the first one came.
    """

    folder: Path
    steps: dict[Hashable, tuple[Path, str]] = field(default_factory=dict)

    def after(self, step: str, service: Service, take: Callable[[], str]) -> str:
        """What the step gives, an id or a path; the records of the service hold what it leaves."""
        if service.engine.dialect.name != "sqlite":
            return take()
        known = step, service.shop.model_dump_json(), _held(service.engine)
        if known not in self.steps:
            found, path = take(), self.folder / f"{len(self.steps)}.sqlite"
            _copy(service.engine, path)
            self.steps[known] = path, found
        else:
            path, found = self.steps[known]
            _lay(path, service.engine)
        return found


def _held(engine: Engine) -> str:
    """A hash of every row of every table."""
    said = hashlib.sha256()
    with engine.connect() as records:
        names = [name for (name,) in records.execute(text("select name from sqlite_master where type = 'table'"))]
        for name in sorted(names):
            said.update(repr(records.execute(text(f'select * from "{name}"')).all()).encode())
    return said.hexdigest()


def _copy(engine: Engine, path: Path) -> None:
    with engine.connect() as records, closing(sqlite3.connect(path)) as copy:
        records.connection.driver_connection.backup(copy)


def _lay(path: Path, engine: Engine) -> None:
    with engine.connect() as records, closing(sqlite3.connect(path)) as copy:
        copy.backup(records.connection.driver_connection)


@pytest.fixture(scope="session")
def reached(tmp_path_factory: pytest.TempPathFactory) -> Reached:
    return Reached(tmp_path_factory.mktemp("reached"))


@pytest.fixture
def finished(service: Service, reached: Reached) -> str:
    """The id of a finished evaluation with many faults."""
    return reached.after("finished", service, lambda: _finished(service))


def _finished(service: Service) -> str:
    source = yaml.safe_load((rubrics_folder() / "examples" / "student_violin_cut_corners.yaml").read_text("utf-8"))
    answers = {
        name: {"outcome": one} if isinstance(one, str) else {"outcome": str(one.get("outcome", ""))}
        for name, one in source["observations"].items()
        if isinstance(one, str) or (isinstance(one, dict) and one.get("outcome"))
    }
    start = {"title": "Anna's violin", "size": "4/4", "style": "classical", "tier": "student"}
    identity = create(service.engine, "violin", {"start": start, "answers": answers}, NOW)
    kept = find(service.engine, identity)
    assert kept is not None
    finish(service.engine, identity, 1, result_json(service.result(kept)), "hash", NOW)
    return identity


@pytest.fixture
def quote(client: Client, service: Service, finished: str, reached: Reached) -> str:
    """The id of its draft."""
    return reached.after("draft", service, lambda: made(client, finished))


@pytest.fixture
def path(client: Client, service: Service, quote: str, reached: Reached) -> str:
    """The path of the private link by which it was offered."""
    return reached.after("offered", service, lambda: link_of(client, quote))
