"""Front page, lists and searches of a shop with fifty thousand evaluations over those of one with a hundred."""

import tempfile
from collections.abc import Iterator
from contextlib import ExitStack, contextmanager
from pathlib import Path
from time import perf_counter

from flask.testing import FlaskClient

from evaluator.rubric.files.shop_file import load_shop
from evaluator.store.engine import open_database
from evaluator.store.folders import rubrics_folder
from evaluator.web.app import create_app
from evaluator.web.service import Service
from tests.bench.filled import fill
from tests.postgres import running

FEW, MANY = 100, 50_000
RUNS = 31
MOST = 1.5
PAGES = {
    "front page": "/",
    "list, last changed": "/evaluations",
    "list, bows by name": "/evaluations?family=bow&order=title",
    "search, one letter": "/find?q=a",
    "search, two words": "/find?q=red+vio",
    "search, a serial": "/find?q=k+0000",
    "customers": "/customers",
    "board": "/board",
    "bills": "/bills",
}
Row = tuple[str, float, float]


def rows(on_server: bool) -> Iterator[Row]:
    """(what, the ratio, the most that it may be) for each page, on a file or a server."""
    where = "PostgreSQL" if on_server else "SQLite"
    with ExitStack() as stack:
        few, many = (stack.enter_context(_client(count, on_server)) for count in (FEW, MANY))
        deep = _last_page(many)
        for what, path in PAGES.items():
            yield f"{what}, {MANY:,} over {FEW}, {where}", _ratio(few, path, many, path), MOST
        yield f"the 200th page over the first of {FEW}, {where}", _ratio(few, "/evaluations", many, deep), MOST


@contextmanager
def _client(count: int, on_server: bool) -> Iterator[FlaskClient]:
    shop, _ = load_shop(rubrics_folder() / "shop.yaml")
    assert shop is not None
    with ExitStack() as stack:
        folder = Path(stack.enter_context(tempfile.TemporaryDirectory()))
        where = stack.enter_context(running()).fresh() if on_server else folder / "kept.sqlite"
        engine = open_database(where)
        stack.callback(engine.dispose)
        fill(engine, count)
        if on_server:
            with engine.connect() as connection:
                connection.exec_driver_sql("ANALYZE")
                connection.commit()
        yield create_app(Service(engine, shop, folder=folder), "a key").test_client()


def _last_page(client: FlaskClient) -> str:
    """Where one comes by "The next ones" two hundred times."""
    path = "/evaluations"
    for _ in range(200):
        text = client.get(path).get_data(as_text=True)
        path = text.split('">The next ones')[0].rpartition('href="')[2].replace("&amp;", "&")
    return path


def _ratio(few: FlaskClient, path: str, many: FlaskClient, other: str) -> float:
    """The lower quartiles, one over the other, measured by turns: so other work on the machine counts little."""
    took: tuple[list[float], list[float]] = [], []
    for _ in range(RUNS):
        for place, (client, address) in enumerate(((few, path), (many, other))):
            began = perf_counter()
            assert client.get(address).status_code == 200, address
            took[place].append(perf_counter() - began)
    few_s, many_s = (sorted(one)[RUNS // 4] for one in took)
    return many_s / few_s
