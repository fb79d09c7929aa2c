"""A table of times, run by hand: `python -m tests.timing`. Each as a ratio to one plain loop in the same run.

The loop is `sum(i * i for i in range(10**6))`. Each figure is the best of seven in processor time,
after one run to warm up, so that other work on the machine counts little; the cold command starts a new interpreter.
"""

import subprocess
import sys
import tempfile
from collections.abc import Callable
from pathlib import Path
from resource import RUSAGE_CHILDREN, getrusage
from time import process_time

from evaluator.assessment.case import read_case
from evaluator.evaluation import DRAWS, evaluate
from evaluator.folders import rubrics_folder
from evaluator.report.pdf import report_pdf
from evaluator.snapshot import to_json, trace_to_json
from tests.report.cases import full, rubric, shop

RUNS = 7
EXAMPLE = rubrics_folder() / "examples" / "student_violin_cut_corners.yaml"


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
    command = [sys.executable, "-c", "from evaluator.cli import main; main()", *words]
    return lambda: subprocess.run(command, check=True, capture_output=True)


def rows() -> list[tuple[str, float]]:
    """(what, seconds) for everything that the issue names and a few beside."""
    judged = rubric("violin")
    case, _ = read_case(judged, full("violin", "wanting", "4/4"))
    few, _ = read_case(judged, full("violin", "sound", "4/4") | {"observations": {"purfling": "painted"}})
    assert case is not None and few is not None
    result = evaluate(judged, case, shop())
    snapshot = to_json(result)
    with tempfile.TemporaryDirectory() as folder:
        return [
            (
                f"evaluate(), all {len(judged.checks)} checks wanting, {DRAWS} draws",
                seconds(lambda: evaluate(judged, case, shop())),
            ),
            (f"evaluate(), one answer, {DRAWS} draws", seconds(lambda: evaluate(judged, few, shop()))),
            ("snapshot", seconds(lambda: to_json(result))),
            ("full trace (--why)", seconds(lambda: trace_to_json(result))),
            ("PDF for the buyer, all wanting", seconds(lambda: report_pdf(snapshot))),
            ("PDF for the shop, all wanting", seconds(lambda: report_pdf(snapshot, "shop"))),
            ("cold `evaluator score`", seconds(cold("score", str(EXAMPLE)))),
            ("cold `evaluator score --json`", seconds(cold("score", str(EXAMPLE), "--json"))),
            ("cold `evaluator report`", seconds(cold("report", str(EXAMPLE), "-o", str(Path(folder) / "paper.pdf")))),
            ("cold `evaluator --help`", seconds(cold("--help"))),
        ]


def main() -> None:
    """Print the table."""
    before, table, after = seconds(loop), rows(), seconds(loop)
    plain = min(before, after)
    sys.stdout.write(f"plain loop: {1000 * plain:.0f} ms ({1000 * before:.0f} before, {1000 * after:.0f} after)\n")
    for what, took in table:
        sys.stdout.write(f"{took / plain:6.2f} loops  {1000 * took:7.0f} ms  {what}\n")


if __name__ == "__main__":
    main()
