"""The commands for the records, as a user runs them: exit codes, one sentence for a mistake, figures on request."""

import json
import subprocess
import sys
from pathlib import Path

import pytest

from evaluator.store.engine import open_database
from evaluator.store.records import Records
from tests.postgres import Server
from tests.store.filled import Filled, fill


def run(*arguments: str, code: int = 0) -> subprocess.CompletedProcess[str]:
    done = subprocess.run([sys.executable, "-m", "evaluator", *arguments], capture_output=True, text=True, check=False)
    assert done.returncode == code, done.stderr
    assert "Traceback" not in done.stderr
    return done


@pytest.fixture
def records(tmp_path: Path) -> Records:
    return Records(tmp_path / "records")


@pytest.fixture
def filled(records: Records) -> Filled:
    engine = open_database(records.database)
    found = fill(engine, records)
    engine.dispose()
    return found


def test_backed_up_verified_restored_and_verified(records: Records, filled: Filled, tmp_path: Path) -> None:
    file, place = str(tmp_path / "one.zip"), str(tmp_path / "place")
    assert f"Wrote {file}" in run("backup", file, "--data", str(records.folder)).stderr
    told = run("verify", file).stdout
    assert told == "All as it was kept: 7 evaluations, 6 results, 1 quotes, 2 answers, 1 photos\n"
    run("restore", file, "--data", place)
    found = json.loads(run("verify", "--data", place, "--json").stdout)
    assert found == {"evaluations": 7, "results": 6, "quotes": 1, "answers": 2, "photos": 1, "problems": []}


def test_what_is_wrong_is_one_sentence_and_exit_1(records: Records, filled: Filled, tmp_path: Path) -> None:
    file, data = str(tmp_path / "one.zip"), str(records.folder)
    run("backup", file, "--data", data)
    assert "there is a file already" in run("backup", file, "--data", data, code=1).stderr
    assert "there are records already" in run("restore", file, "--data", data, code=1).stderr
    assert "there are no records" in run("verify", "--data", str(tmp_path / "nowhere"), code=1).stderr
    assert "it is no backup" in run("verify", str(records.database), code=1).stderr
    content = Path(file).read_bytes()
    Path(file).write_bytes(content[:200] + b"\0" * 40 + content[240:])
    assert "“tables/" in run("restore", file, "--data", str(tmp_path / "place"), code=1).stderr
    assert not (tmp_path / "place").exists()


def test_the_doctor_says_what_to_do(records: Records, filled: Filled, tmp_path: Path) -> None:
    data = str(records.folder)
    assert "there is none" in run("doctor", "--data", data).stdout
    told = json.loads(run("doctor", "--data", data, "--json").stdout)
    assert {one["state"] for one in told if one["subject"] in ("Database", "Permissions")} == {"well"}
    assert isinstance(records.database, Path)
    content = bytearray(records.database.read_bytes())
    content[4096 * 3 : 4096 * 4] = b"\xff" * 4096
    records.database.write_bytes(content)
    told = json.loads(run("doctor", "--data", data, "--json", code=1).stdout)
    assert "damaged" in next(one["told"] for one in told if one["subject"] == "Database")


@pytest.mark.postgres
def test_moved_to_a_server_and_back(records: Records, filled: Filled, server: Server, tmp_path: Path) -> None:
    address, data, home = server.empty(), str(records.folder), str(tmp_path / "home")
    told = run("move", data, address).stderr
    assert "evaluations: 7 of 7 rows" in told and "all the same" in told
    counts = json.loads(run("verify", "--data", data, "--database", address, "--json").stdout)
    run("move", address, home, "--data", data)
    assert json.loads(run("verify", "--data", home, "--json").stdout) == counts
    assert "there are records already" in run("move", data, address, code=1).stderr
    server.drop(address)
