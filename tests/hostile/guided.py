"""A fuzzer that follows which lines it reaches, by hand: `python -m tests.hostile.guided TARGET -max_total_time=60`.

What follows TARGET goes to the fuzzer (atheris, of the extra `fuzz`). What it finds becomes an example of a test.
"""

import sys
from collections.abc import Callable, Mapping

import atheris

with atheris.instrument_imports(
    include=["evaluator.basis", "evaluator.assessment.observing", "evaluator.valuation.sales"]
):
    from datetime import date

    from evaluator.assessment.observing.observe import read_observation
    from evaluator.basis.document import parse_document
    from evaluator.basis.formulas.formula import parse_formula
    from evaluator.basis.typed.kinds import Wanted, understand
    from evaluator.valuation.sales.sales_file import read_sales

from evaluator.papers.printing.fonts import drawable
from evaluator.rubric.files.load import load_rubric
from evaluator.store.folders import rubrics_folder

VIOLIN, _ = load_rubric(rubrics_folder(), "violin")
assert VIOLIN is not None
NUMBERED = [name for name, check in VIOLIN.checks.items() if check.measure][:8]


def _text(content: bytes) -> str:
    return content.decode("utf-8", "surrogateescape")


def _observation(content: bytes) -> None:
    assert VIOLIN is not None
    check = NUMBERED[content[0] % len(NUMBERED)] if content else NUMBERED[0]
    read_observation(VIOLIN, check, {"reading": _text(content[1:])}, "in_person")


TARGETS: Mapping[str, Callable[[bytes], object]] = {
    "observations": _observation,
    "numbers": lambda content: [understand(_text(content), Wanted(kind)) for kind in ("money", "hours")],
    "yaml": lambda content: parse_document(content, "x"),
    "formulas": lambda content: parse_formula(_text(content)),
    "csv": lambda content: read_sales(content, "x.csv", "USD", date(2026, 1, 1), {"violin": ("4/4",)}),
    "paper": lambda content: drawable(_text(content)),
}


def main() -> None:
    """Fuzz one target until it is told to stop, or something breaks."""
    if len(sys.argv) < 2 or sys.argv[1] not in TARGETS:
        raise SystemExit(f"Name one of {', '.join(TARGETS)}.")
    atheris.Setup([sys.argv[0], *sys.argv[2:]], TARGETS[sys.argv[1]])
    atheris.Fuzz()


if __name__ == "__main__":
    main()
