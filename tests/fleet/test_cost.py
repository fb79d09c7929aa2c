"""What a fleet costs: processor time against one process, memory over a thousand. Tried with `-m long` alone."""

import os
import resource
import subprocess
import sys
from pathlib import Path

import pytest

from evaluator.fleet.judging import Judge
from evaluator.fleet.running import Wanted, judge_fleet, processes
from evaluator.rubric.files.shop_file import load_shop
from evaluator.store.folders import rubrics_folder
from tests.fleet.fleets import folder_of, many

pytestmark = pytest.mark.long

ONE_PROCESS = """
import sys
from pathlib import Path
from evaluator.fleet.judging import Judge
from evaluator.fleet.sources import from_paths
from evaluator.rubric.files.shop_file import load_shop
from evaluator.store.folders import rubrics_folder
shop, _ = load_shop(rubrics_folder() / "shop.yaml")
judge = Judge(shop)
results = [judge.result(source) for source in from_paths([sys.argv[1]])]
assert len(results) == 60 and not any(isinstance(one, tuple) for one in results)
"""


def processor_time(*words: str) -> float:
    """Seconds of processor time that a command takes, with all processes that it starts."""
    before = resource.getrusage(resource.RUSAGE_CHILDREN)
    subprocess.run([sys.executable, *words], check=True, capture_output=True, env=os.environ)
    after = resource.getrusage(resource.RUSAGE_CHILDREN)
    return (after.ru_utime + after.ru_stime) - (before.ru_utime + before.ru_stime)


def test_two_processes_cost_little_more_than_one(tmp_path: Path) -> None:
    fleet = str(folder_of(tmp_path / "fleet", 60))
    alone = processor_time("-c", ONE_PROCESS, fleet)
    table = str(tmp_path / "out.csv")
    spread = processor_time("-m", "evaluator", "score", fleet, "--csv", table, "--workers", "2")
    print(f"alone {alone:.2f} s, spread {spread:.2f} s, {spread / alone:.2f} times")
    assert spread / alone < 1.3


def resident(process: int) -> int:
    """Bytes of a process in memory that are its own."""
    lines = Path(f"/proc/{process}/smaps_rollup").read_text("ascii").splitlines()
    kept = dict(line.split(":", 1) for line in lines[1:])
    return sum(int(kept[name].split()[0]) for name in ("Private_Clean", "Private_Dirty")) * 1024


@pytest.mark.skipif(not Path("/proc/self/smaps_rollup").exists(), reason="memory is read where Linux tells it")
def test_memory_stays_flat_over_a_thousand() -> None:
    shop, _ = load_shop(rubrics_folder() / "shop.yaml")
    assert shop is not None
    taken = []
    for place, one in enumerate(judge_fleet(many(1000), Judge(shop), Wanted(), processes(2))):
        assert not one.problems
        if place % 20 == 19:
            children = Path(f"/proc/self/task/{os.getpid()}/children").read_text("ascii").split()
            taken.append(sum(map(resident, [os.getpid(), *map(int, children)])))
    first, last = sum(taken[5:10]) / 5, sum(taken[-5:]) / 5  # from the hundredth on, when every rubric is read
    print(f"first {first / 1e6:.0f} MB, last {last / 1e6:.0f} MB, {last / first:.3f} times")
    assert last / first < 1.2
