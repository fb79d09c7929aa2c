"""Do the tests bite? Small faults are put into the pure core, one at a time: `python -m tests.mutation`, run by hand.

The faults are those of mutmut (a changed number, an argument left out, `<` for `<=`, `and` for `or`, another text) at
places drawn with a fixed seed. First each test file runs once, in a process of its own, to see which lines it runs;
then each fault meets the files that run its line, the quickest first, until one fails. A fault that no test notices
survives and is printed: it wants a test, or is none (then say why). Needs `pip install -e '.[mutation]'`.

Each run is a fork of one process that has loaded the slow libraries and nothing of the program; the fork takes the
changed module in place of the one on the disk, so no file is ever changed. What a test starts as a process of its own
meets no fault.
"""

import argparse
import difflib
import importlib
import json
import math
import os
import random
import signal
import sys
import tempfile
import time
from collections import defaultdict
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from importlib.machinery import ModuleSpec, SourceFileLoader
from importlib.util import spec_from_file_location
from pathlib import Path
from types import CodeType

import coverage
import libcst as cst
import pytest
from hypothesis import Phase, settings
from libcst.metadata import MetadataWrapper, PositionProvider
from mutmut.mutation.mutators import mutation_operators

ROOT = Path(__file__).parent.parent
CORE = ("assessment", "estimate", "valuation", "result")  # packages of evaluator, lowest first
TESTS = (*CORE, "choosing", "quoting", "published")  # folders of tests
LIBRARIES = ("numpy", "scipy.optimize", "scipy.stats", "pydantic", "yaml", "jsonschema", "flask", "reportlab.platypus")
TIMED = ("test_speed.py",)  # they tell how long it takes, which a fault seldom changes
EXAMPLES = 30
WANTED = 0.80
PATIENCE = 8  # times as long as its tests took; a loop that never ends is noticed too
LEAST_SECONDS = 60
SAID = {0: "survived", 1: "killed", 2: "killed", 3: "killed"}  # pytest's exit codes; 2 and 3: it could not be loaded


@dataclass(frozen=True, slots=True)
class Place:
    """A node of a module's source that one of the operators can change, and the lines of the statement it is in."""

    path: Path
    lines: range
    node: cst.CSTNode
    changes: tuple[cst.CSTNode, ...]
    whole: cst.Module


@dataclass(frozen=True, slots=True)
class Fault:
    """A module's source with one fault in it."""

    path: Path
    lines: range
    source: str

    @property
    def module(self) -> str:
        return ".".join(self.path.relative_to(ROOT).with_suffix("").parts).removesuffix(".__init__")

    def difference(self) -> str:
        before, after = self.path.read_text("utf-8").splitlines(), self.source.splitlines()
        changed = [
            line for line in difflib.unified_diff(before, after, n=0, lineterm="") if line[:2] not in ("--", "++")
        ]
        return f"{self.path.relative_to(ROOT)}:{self.lines.start}\n" + "\n".join(changed[1:])


class Places(cst.CSTVisitor):
    """Gathers the places of a module. Types, decorators, imports and docstrings are left as they are."""

    METADATA_DEPENDENCIES = (PositionProvider,)

    def __init__(self, path: Path, whole: cst.Module) -> None:
        super().__init__()
        self.path, self.whole, self.found, self.lines = path, whole, list[Place](), range(1, 2)

    def on_visit(self, node: cst.CSTNode) -> bool:
        if isinstance(node, cst.Annotation | cst.Decorator | cst.Import | cst.ImportFrom):
            return False
        if isinstance(node, cst.Expr) and isinstance(node.value, cst.SimpleString | cst.ConcatenatedString):
            return False
        where = self.get_metadata(PositionProvider, node)
        if isinstance(node, cst.SimpleStatementLine):
            self.lines = range(where.start.line, where.end.line + 1)
        elif isinstance(node, cst.BaseCompoundStatement):
            self.lines = range(where.start.line, where.start.line + 1)
        for kind, operator in mutation_operators:
            if isinstance(node, kind) and (changes := tuple(operator(node))):
                lines = self.lines if where.start.line in self.lines else range(where.start.line, where.end.line + 1)
                self.found.append(Place(self.path, lines, node, changes, self.whole))
        return True


def places(packages: tuple[str, ...]) -> Iterator[Place]:
    for package in packages:
        for path in sorted((ROOT / "evaluator" / package).rglob("*.py")):
            wrapped = MetadataWrapper(cst.parse_module(path.read_text("utf-8")), unsafe_skip_copy=True)
            visitor = Places(path, wrapped.module)
            wrapped.visit(visitor)
            yield from visitor.found


def drawn(packages: tuple[str, ...], count: int, seed: int) -> list[Fault]:
    """So many faults, each at another place, the same for the same source and seed."""
    chance = random.Random(seed)
    every = list(places(packages))
    chance.shuffle(every)
    faults: list[Fault] = []
    for place in every:
        source = place.whole.deep_replace(place.node, chance.choice(place.changes)).code  # type: ignore[arg-type]
        if _is_python(source) and source != place.whole.code:
            faults.append(Fault(place.path, place.lines, source))
        if len(faults) == count:
            break
    return sorted(faults, key=lambda fault: (fault.path, fault.lines.start))


def _is_python(source: str) -> bool:
    try:
        compile(source, "changed", "exec", dont_inherit=True)
    except (SyntaxError, ValueError):
        return False
    return True


class Changed(SourceFileLoader):
    """Loads one module with a fault in it."""

    def __init__(self, fault: Fault) -> None:
        super().__init__(fault.module, str(fault.path))
        self.source = fault.source

    def get_code(self, fullname: str) -> CodeType:
        return compile(self.source, self.path, "exec", dont_inherit=True)

    def find_spec(self, name: str, path: object = None, target: object = None) -> ModuleSpec | None:
        return spec_from_file_location(name, self.path, loader=self) if name == self.name else None


class Quick:
    """A plugin: laws on fewer examples, and those that fail are not made smaller."""

    @pytest.hookimpl(trylast=True)
    def pytest_configure(self) -> None:
        phases = [phase for phase in Phase if phase not in (Phase.shrink, Phase.explain)]
        settings.register_profile("quick", settings.get_profile("usual"), phases=phases, max_examples=EXAMPLES)
        settings.load_profile("quick")


def run(files: list[str], fault: Fault | None = None) -> int:
    """Pytest's exit code for these files."""
    if fault is not None:
        sys.meta_path.insert(0, Changed(fault))  # type: ignore[arg-type]
    words = ["-x", "-q", "-n", "0", "-p", "no:cacheprovider", "-m", "not browser", *files]
    return pytest.main(words, plugins=[Quick()])


def watched(file: str, out: Path) -> int:
    """Run a test file and keep which lines of the core it runs, and how long it takes."""
    begun = time.process_time()
    watch = coverage.Coverage(data_file=None, include=[str(ROOT / "evaluator" / name / "*") for name in CORE])
    watch.start()
    code = run([file])
    watch.stop()
    data = watch.get_data()
    lines = {name: data.lines(name) for name in data.measured_files()}
    out.write_text(json.dumps({"code": code, "seconds": time.process_time() - begun, "lines": lines}), "utf-8")
    return 0


def forked(
    work: list[Callable[[], int]], told: Callable[[int, str], None], at_once: int, seconds: list[float] | None = None
) -> list[str]:
    """What became of each piece of work, so many at once, each in a fork of this process and stopped after so long."""
    found = [""] * len(work)
    waiting, running = list(range(len(work))), dict[int, tuple[int, float]]()
    while waiting or running:
        while waiting and len(running) < at_once:
            index = waiting.pop(0)
            running[_fork(work[index])] = (index, time.monotonic() + (seconds[index] if seconds else math.inf))
        pid, status = os.waitpid(-1, os.WNOHANG)
        if pid:
            index, _ = running.pop(pid)
            code = os.waitstatus_to_exitcode(status)
            found[index] = found[index] or (SAID.get(code, f"exit code {code}") if code >= 0 else "killed")
            told(index, found[index])
            continue
        for late, (index, deadline) in running.items():
            if time.monotonic() > deadline and not found[index]:
                found[index] = "killed"
                os.killpg(late, signal.SIGKILL)
        time.sleep(0.05)
    return found


def _fork(work: Callable[[], int]) -> int:
    if pid := os.fork():
        return pid
    os.setpgid(0, 0)
    nothing = os.open(os.devnull, os.O_RDWR)
    for stream in (0, 1, 2):
        os.dup2(nothing, stream)
    code = 9
    try:
        code = int(work())
    finally:
        os._exit(code)


@dataclass(frozen=True, slots=True)
class Coverers:
    """By file and line of the core the test files that run it, the quickest first; and how many seconds each takes."""

    by_line: dict[tuple[str, int], list[str]]
    seconds: dict[str, float]

    def of(self, fault: Fault) -> list[str]:
        return list(
            dict.fromkeys(file for line in fault.lines for file in self.by_line.get((str(fault.path), line), ()))
        )

    def patience(self, fault: Fault) -> float:
        return max(LEAST_SECONDS, PATIENCE * sum(self.seconds[file] for file in self.of(fault)))


def coverers(say: Callable[[str], None], at_once: int) -> Coverers:
    """Runs each test file once."""
    folders = [ROOT / "tests" / name for name in TESTS]
    files = sorted(
        str(path.relative_to(ROOT))
        for folder in folders
        for path in folder.rglob("test_*.py")
        if path.name not in TIMED
    )
    with tempfile.TemporaryDirectory() as folder:
        outs = [Path(folder) / f"{index}.json" for index in range(len(files))]
        forked(
            [lambda file=file, out=out: watched(file, out) for file, out in zip(files, outs, strict=True)],
            _quiet,
            at_once,
        )
        rows = [json.loads(out.read_text("utf-8")) for out in outs]
    if failed := [file for file, row in zip(files, rows, strict=True) if row["code"] not in (0, 5)]:
        sys.exit("These fail as they are: " + ", ".join(failed))
    say(f"{len(files)} test files, {sum(row['seconds'] for row in rows):.0f} s of processor time while watched")
    found = defaultdict(list)
    for row, file in sorted(zip(rows, files, strict=True), key=lambda pair: pair[0]["seconds"]):
        for name, lines in row["lines"].items():
            for line in lines:
                found[name, line].append(file)
    return Coverers(found, {file: row["seconds"] for file, row in zip(files, rows, strict=True)})


def _quiet(index: int, what: str) -> None:
    """Say nothing."""


def main() -> None:
    """Put in the faults, print the survivors and the share that was killed; exit code 1 when it is too small."""
    parser = argparse.ArgumentParser(description="Put faults into the pure core and see whether the tests notice.")
    parser.add_argument("--count", type=int, default=300)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--at-once", type=int, default=os.cpu_count() or 1, help="how many processes")
    parser.add_argument("packages", nargs="*", default=list(CORE), help="of evaluator; a module's path counts too")
    chosen = parser.parse_args()
    for name in LIBRARIES:
        importlib.import_module(name)

    def say(text: str) -> None:
        sys.stdout.write(text + "\n")
        sys.stdout.flush()

    known = coverers(say, chosen.at_once)
    faults = drawn(tuple(chosen.packages), chosen.count, chosen.seed)
    work = [lambda fault=fault: _met(fault, known) for fault in faults]
    say(f"{len(faults)} faults, seed {chosen.seed}")

    done: list[str] = []

    def told(index: int, what: str) -> None:
        done.append(what)
        if what != "killed":
            say(f"\n{what} ({done.count('killed')} of {len(done)} killed so far): {faults[index].difference()}")

    found = forked(work, told, chosen.at_once, [known.patience(fault) for fault in faults])
    killed: dict[str, list[bool]] = defaultdict(list)
    for fault, what in zip(faults, found, strict=True):
        killed[fault.path.relative_to(ROOT / "evaluator").parts[0]].append(what == "killed")
    say("")
    for name, each in killed.items():
        say(f"{name:12} {sum(each):4} of {len(each):4} killed")
    share = found.count("killed") / max(1, len(found))
    say(f"{found.count('killed')} of {len(found)} faults killed, {share:.1%}; wanted: {WANTED:.0%}")
    sys.exit(0 if share >= WANTED else 1)


def _met(fault: Fault, known: Coverers) -> int:
    """Let a fault meet the test files that run its line; where none does, it survives."""
    files = known.of(fault)
    return run(files, fault) if files else 0


if __name__ == "__main__":
    main()
