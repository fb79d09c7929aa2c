"""How the tests run: which may be left out and what that is called, and from which seeds the laws are tried.

The usual run tries each law on the same hundred examples every time. `-m long` runs the laws alone, on a thousand;
`-m explore` runs them alone, on examples that nobody has tried; what it finds becomes a fixed case of the test.
"""

import gc
import os
import shutil
from collections import Counter
from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING

import pytest
from hypothesis import HealthCheck, settings

# Each worker has a processor to itself; on small matrices more threads only wait for each other (25 times as long).
os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")

if TYPE_CHECKING:
    from tests.postgres import Server

NEEDS_FILE = Path(__file__).parent / "needs.txt"
SLOW = (HealthCheck.too_slow, HealthCheck.data_too_large)
LAWS = {
    "long": "a law, on a thousand examples instead of a hundred; and what takes minutes, not tried otherwise",
    "explore": "a law, on examples that nobody has tried",
}
BROWSER_FIXTURE = "browser"
LEFT_OUT = "{command} is not here: install Debian's {package}"

settings.register_profile("usual", derandomize=True, database=None, deadline=None, suppress_health_check=SLOW)
settings.register_profile("long", settings.get_profile("usual"), max_examples=1000)
settings.register_profile("explore", deadline=None, suppress_health_check=SLOW, print_blob=True)


def _needs() -> dict[str, tuple[str, str]]:
    """By marker: the command that shows that a thing is there, and Debian's package."""
    rows = (line.split() for line in NEEDS_FILE.read_text("utf-8").splitlines() if not line.startswith("#"))
    return {marker: (command, package) for marker, command, package in rows}


def pytest_addoption(parser: pytest.Parser) -> None:
    parser.addoption(
        "--nothing-left-out", action="store_true", help="fail where a test is skipped, whatever the reason"
    )
    parser.addoption("--on-server", action="store_true", help="keep the records of the pages' tests in PostgreSQL")


def pytest_configure(config: pytest.Config) -> None:
    for marker, (command, package) in _needs().items():
        config.addinivalue_line("markers", f"{marker}: needs {command}, Debian's {package}")
    for marker, what in LAWS.items():
        config.addinivalue_line("markers", f"{marker}: {what}")
    chosen = config.getoption("markexpr")
    settings.load_profile(chosen if chosen in LAWS else "usual")


@pytest.fixture(scope="session")
def server() -> "Iterator[Server]":
    """A PostgreSQL server of this run, started when the first test asks for it."""
    from tests.postgres import running

    with running() as found:
        yield found


@pytest.fixture(scope="session")
def tables(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A SQLite file with today's tables and nothing in them, to copy: making them takes longer than most tests."""
    from evaluator.store.engine import open_database

    path = tmp_path_factory.mktemp("tables") / "kept.sqlite"
    open_database(path).dispose()
    return path


@pytest.hookimpl(tryfirst=True)
def pytest_collection_modifyitems(config: pytest.Config, items: list[pytest.Item]) -> None:
    """Mark the laws and whatever opens a browser, and leave out what cannot run here, or takes minutes."""
    if "long" not in config.getoption("markexpr"):
        slow = [item for item in items if item.get_closest_marker("long")]
        items[:] = [item for item in items if item not in slow]
        config.hook.pytest_deselected(items=slow)
    missing = {marker: one for marker, one in _needs().items() if shutil.which(one[0]) is None}
    for item in items:
        if getattr(getattr(item, "obj", None), "is_hypothesis_test", False):
            for marker in LAWS:
                item.add_marker(marker)
        if BROWSER_FIXTURE in getattr(item, "fixturenames", ()):
            item.add_marker("browser")
            item.add_marker(pytest.mark.flaky(reruns=1))  # on a busy machine a page may come late: tried once more
        for marker, (command, package) in missing.items():
            if item.get_closest_marker(marker):
                item.add_marker(pytest.mark.skip(LEFT_OUT.format(command=command, package=package)))


def pytest_collection_finish() -> None:
    """What is loaded by now stays to the end; gone through again and again, it took an eighth of a run."""
    gc.collect()
    gc.freeze()
    gc.set_threshold(50_000, 20, 1000)


def pytest_runtest_teardown() -> None:
    """A command that a test runs in this process does without the collector; the next tests do not."""
    gc.enable()


def _skipped(reporter: pytest.TerminalReporter) -> Counter[str]:
    """How many tests were skipped, by reason."""
    reasons = (report.longrepr for report in reporter.getreports("skipped"))
    return Counter(why[2] if isinstance(why, tuple) else str(why) for why in reasons)


def pytest_terminal_summary(terminalreporter: pytest.TerminalReporter, config: pytest.Config) -> None:
    for reason, count in _skipped(terminalreporter).items():
        terminalreporter.write_line(f"Left out: {count} tests. {reason.removeprefix('Skipped: ')}")
    if config.getoption("nothing_left_out") and _skipped(terminalreporter):
        terminalreporter.write_line("Here nothing may be left out.")


@pytest.hookimpl(trylast=True)
def pytest_sessionfinish(session: pytest.Session) -> None:
    reporter = session.config.pluginmanager.get_plugin("terminalreporter")
    if reporter and session.config.getoption("nothing_left_out") and _skipped(reporter):
        session.exitstatus = pytest.ExitCode.TESTS_FAILED
