"""A command in a new interpreter beside one that only loads click, by processor time: so it hardly matters who else is
at work. The rubric and the shop were compiled before, as on any day but the first.
"""

import subprocess
import sys
from collections.abc import Iterator
from resource import RUSAGE_CHILDREN, getrusage

from evaluator.store.folders import rubrics_folder
from tests.bench.served import Row

RUNS = 12
CLICK = (sys.executable, "-c", "import click")
COMMAND = (sys.executable, "-c", "from evaluator.cli.main import main; main()")
EXAMPLE = rubrics_folder() / "examples" / "student_violin_cut_corners.yaml"


def starts() -> Iterator[Row]:
    """`evaluator score` and `evaluator --help`, the best of some runs in turn with click's."""
    asked = {"score FILE": (*COMMAND, "score", str(EXAMPLE)), "--help": (*COMMAND, "--help")}
    for words in asked.values():
        spent(words)  # compiles what is not yet
    turns = [(spent(CLICK), *map(spent, asked.values())) for _ in range(RUNS)]
    click, *found = (min(times) for times in zip(*turns, strict=True))
    for words, took, most in zip(asked, found, (10.0, 2.0), strict=True):
        yield f"cold `evaluator {words}` over `import click`, processor time", took / click, most


def spent(words: tuple[str, ...]) -> float:
    """Processor seconds of a command."""
    before = getrusage(RUSAGE_CHILDREN)
    subprocess.run(words, check=True, capture_output=True)
    after = getrusage(RUSAGE_CHILDREN)
    return after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime
