"""A table of times, run by hand: `python -m tests.timing`. Each as a ratio to one plain loop in the same run.

The loop is `sum(i * i for i in range(10**6))`. Each figure is the best of seven in processor time,
after one run to warm up, so that other work on the machine counts little; the cold command starts a new interpreter.
"""

import os
import subprocess
import sys
import tempfile
from collections.abc import Callable
from functools import partial
from pathlib import Path
from resource import RUSAGE_CHILDREN, getrusage
from time import process_time

os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")  # as the command does: idle threads would be counted as work

from evaluator.assessment.looking.information import Looks
from evaluator.assessment.looking.next_checks import next_checks
from evaluator.assessment.model import Case
from evaluator.assessment.observing.case import read_case
from evaluator.assessment.reasons.why import Trace
from evaluator.assessment.scoring.draws import assess
from evaluator.papers.printing.pdf import report_pdf
from evaluator.result.evaluation import DRAWS, evaluate
from evaluator.result.json_form import to_json
from evaluator.result.making.result import result_of
from evaluator.rubric.rubric import Rubric
from evaluator.store.folders import rubrics_folder
from tests.assessment.small import case_of
from tests.assessment.test_speed import answered, large_rubric
from tests.papers.cases import content, full, rubric, shop

RUNS = 7
EXAMPLES = rubrics_folder() / "examples"
EXAMPLE = EXAMPLES / "student_violin_cut_corners.yaml"


def seconds(work: Callable[[], object]) -> float:
    """The best processor time of a piece of work."""
    work()
    found = []
    for _ in range(RUNS):
        start = _spent()
        work()
        found.append(_spent() - start)
    return min(found)


def _spent() -> float:
    """Processor seconds of this process and its finished children."""
    children = getrusage(RUSAGE_CHILDREN)
    return process_time() + children.ru_utime + children.ru_stime


def loop() -> int:
    return sum(i * i for i in range(10**6))


def cold(*words: str) -> Callable[[], object]:
    command = [sys.executable, "-c", "from evaluator.cli.main import main; main()", *words]
    return lambda: subprocess.run(command, check=True, capture_output=True)


def parsed(judged: Rubric, data: dict[str, object]) -> Case:
    case, problems = read_case(judged, data)
    assert case is not None, problems
    return case


def examples() -> list[tuple[str, float]]:
    """`evaluate` of every example of the rubrics folder, the slowest first."""
    found = []
    for path in sorted(EXAMPLES.glob("*.yaml")):
        data = content(path.read_text())
        judged = rubric(data["rubric"])
        case = parsed(judged, data)
        what = f"evaluate() {path.stem.replace('_', ' ')}, {len(case.observations)} answers"
        found.append((what, seconds(partial(evaluate, judged, case, shop()))))
    return sorted(found, key=lambda row: -row[1])


def ranked(looks: Callable[[], Looks]) -> object:
    return next_checks(looks(), "luthier", "in_person")


def growth() -> list[tuple[str, float]]:
    """Assessing and ranking the next looks of made-up rubrics of 50 to 1,000 checks, a tenth of them answered."""
    found = []
    for count in (50, 150, 500, 1000):
        large = large_rubric(count)
        case = case_of(large, answered(large, 0.1))
        known = assess(large, case, draws=DRAWS)
        net = 20.0 + 10.0 * (known.worlds.score - known.worlds.score.mean())  # what buying gains in each world
        looks = partial(Looks, large, case, known, net)
        ranking = partial(ranked, looks)
        found.append((f"assess(), {count} checks", seconds(partial(assess, large, case, draws=DRAWS))))
        found.append((f"next looks of {count} checks, with a price", seconds(ranking)))
    return found


def rows() -> list[tuple[str, float]]:
    """(what, seconds) for everything that the issue names and a few beside."""
    judged = rubric("violin")
    case = parsed(judged, full("violin", "wanting", "4/4"))
    few = parsed(judged, full("violin", "sound", "4/4") | {"observations": {"purfling": "painted"}})
    result = evaluate(judged, case, shop())
    shown = result_of(result)
    with tempfile.TemporaryDirectory() as folder:
        return [
            (
                f"evaluate(), all {len(judged.checks)} checks wanting, {DRAWS} draws",
                seconds(lambda: evaluate(judged, case, shop())),
            ),
            (f"evaluate(), one answer, {DRAWS} draws", seconds(lambda: evaluate(judged, few, shop()))),
            ("snapshot", seconds(lambda: to_json(result))),
            ("full trace (--why)", seconds(lambda: Trace(result.rubric, result.case, result.assessment).everything())),
            ("PDF for the buyer, all wanting", seconds(lambda: report_pdf(shown))),
            ("PDF for the shop, all wanting", seconds(lambda: report_pdf(shown, "shop"))),
            ("cold `evaluator score`", seconds(cold("score", str(EXAMPLE)))),
            ("cold `evaluator score --json`", seconds(cold("score", str(EXAMPLE), "--json"))),
            ("cold `evaluator report`", seconds(cold("report", str(EXAMPLE), "-o", str(Path(folder) / "paper.pdf")))),
            ("cold `evaluator --help`", seconds(cold("--help"))),
        ]


def main() -> None:
    """Print the table."""
    before = seconds(loop)
    table = [*rows(), *growth(), *examples()]
    after = seconds(loop)
    plain = min(before, after)
    sys.stdout.write(f"plain loop: {1000 * plain:.0f} ms ({1000 * before:.0f} before, {1000 * after:.0f} after)\n")
    for what, took in table:
        sys.stdout.write(f"{took / plain:6.2f} loops  {1000 * took:7.0f} ms  {what}\n")


if __name__ == "__main__":
    main()
