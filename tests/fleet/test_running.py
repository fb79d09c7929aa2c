"""A fleet is judged as each of it is alone, in its order, past what cannot be read; on processes and a cluster."""

import csv
import io
import json
from concurrent.futures import BrokenExecutor, Future
from contextlib import nullcontext
from typing import Any

import pytest

from evaluator.basis.problem import Problem
from evaluator.fleet import running
from evaluator.fleet.judging import Judge
from evaluator.fleet.rows import COLUMNS, as_csv, row_of
from evaluator.fleet.running import Wanted, cluster, judge_fleet, processes
from evaluator.fleet.sources import Source
from evaluator.result.json_form import result_json
from evaluator.rubric.files.shop_file import load_shop
from evaluator.rubric.shop import Shop
from evaluator.store.folders import rubrics_folder
from tests.fleet.fleets import many


@pytest.fixture(scope="module")
def judge() -> Judge:
    shop, problems = load_shop(rubrics_folder() / "shop.yaml")
    assert isinstance(shop, Shop), problems
    return Judge(shop)


def mixed() -> list[Source]:
    first, *others = many(4)
    return [Source("bad/0.yaml", b"\x00\xff"), first, Source("bad/1.yaml", b"rubric: ukulele"), *others]


@pytest.mark.parametrize("way", ["fork", "spawn"])
def test_processes_judge_as_one_does(judge: Judge, way: str) -> None:
    found = list(judge_fleet(mixed(), judge, Wanted(), processes(2, way)))
    assert [one.row.file for one in found] == [one.name for one in mixed()]
    assert [bool(one.problems) for one in found] == [True, False, True, False, False, False]
    for source, one in zip(mixed(), found, strict=True):
        if not one.problems:
            result = judge.result(source)
            assert not isinstance(result, tuple)
            assert one.row == row_of(source.name, result)


def test_a_cluster_of_two_workers_judges_as_one_process_does(judge: Judge) -> None:
    distributed = pytest.importorskip("distributed")
    with distributed.LocalCluster(
        n_workers=2, threads_per_worker=1, processes=True, dashboard_address=None, host="127.0.0.1"
    ) as here:
        pool = cluster(here.scheduler_address)
        assert not isinstance(pool, Problem), pool
        found = list(judge_fleet(mixed(), judge, Wanted("shop"), pool))
    alone = list(judge_fleet(mixed(), judge, Wanted("shop"), processes(1)))
    assert found == alone
    assert all(one.pdf.startswith(b"%PDF-") for one in found if not one.problems)


def test_a_cluster_that_is_not_there_is_told(monkeypatch: pytest.MonkeyPatch) -> None:
    pytest.importorskip("distributed")
    monkeypatch.setattr(running, "CONNECTED_IN", "1s")
    for address in ("nonsense", "tcp://127.0.0.1:1"):
        found = cluster(address)
        assert isinstance(found, Problem)
        assert found.code == "fleet.no_cluster"


class Dead:
    """An executor whose worker died on everything that it was given."""

    _max_workers = 1

    def submit(self, *_: object) -> Future[Any]:
        future: Future[Any] = Future()
        future.set_exception(BrokenExecutor("gone"))
        return future


def test_a_worker_that_dies_is_told_and_not_waited_for(judge: Judge) -> None:
    first, *others = judge_fleet(many(3), judge, Wanted(), lambda: nullcontext(Dead()))
    assert not first.problems
    assert all("the program failed on it (BrokenExecutor)" in str(one.problems[0]) for one in others)


def test_the_table_reads_back_and_holds_no_formula(judge: Judge) -> None:
    result = judge.result(Source("=1+1.yaml", b'rubric: violin\ntitle: "=cmd()"\nasking: {amount: 900, currency: EUR}'))
    assert not isinstance(result, tuple)
    (row,) = csv.DictReader(io.StringIO(as_csv([row_of("=1+1.yaml", result)])))
    assert tuple(row) == COLUMNS
    assert (row["file"], row["title"], row["asking"]) == ("'=1+1.yaml", "'=cmd()", "900.00 EUR")
    assert row["work"] == "0.00"


def test_a_result_that_was_printed_is_a_line_as_it_was(judge: Judge) -> None:
    first = many(1)[0]
    result = judge.result(first)
    assert not isinstance(result, tuple)
    printed = json.dumps(result_json(result)).encode()
    assert judge.result(Source("printed.json", printed)) == result
    broken = judge.result(Source("printed.json", printed.replace(b'"coverage"', b'"covrage"')))
    assert isinstance(broken, tuple)
    assert broken[0].code == "fleet.broken_result"
