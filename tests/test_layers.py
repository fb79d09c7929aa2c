"""Imports go down only, and the core touches no file, network, clock, web or SQL."""

import ast
from collections import Counter
from collections.abc import Iterator
from functools import cache
from pathlib import Path

import pytest

import evaluator

PACKAGE = Path(evaluator.__file__).parent
ORDER = (
    "basis",
    "lutherie",
    "drawings",
    "rubric",
    "assessment",
    "estimate",
    "valuation",
    "quoting",
    "result",
    "choosing",
    "yearly",
    "calculators",
    "wording",
    "figures",
)
MEDIA = {"papers", "store"}
DESK = {"fleet", "exchange"}
SHELL = {"web", "cli"}
PURE = set(ORDER)
MOST_MODULES = 12
FORBIDDEN_IN_CORE = {
    "flask",
    "sqlalchemy",
    "requests",
    "socket",
    "urllib",
    "subprocess",
    "os",
    "time",
    "random",
    "reportlab",
}
NEVER_IN_CORE_CALLS = {"open", "print", "input"}
MODULES = sorted(p for p in PACKAGE.rglob("*.py") if "_data" not in p.parts)


def layer_of(module: Path) -> str:
    return module.relative_to(PACKAGE).parts[0].removesuffix(".py")


LAYERS = sorted({layer_of(module) for module in MODULES})


def in_layer(layer: str) -> Iterator[tuple[str, Path]]:
    """The modules of a layer, and how they are named to whoever reads that a rule is broken."""
    return ((module.relative_to(PACKAGE).as_posix(), module) for module in MODULES if layer_of(module) == layer)


@cache
def parsed(module: Path) -> tuple[ast.AST, ...]:
    return tuple(ast.walk(ast.parse(module.read_text(encoding="utf-8"))))


def imported(module: Path) -> set[str]:
    """Dotted names of what a module imports, relative ones made absolute."""
    package = ("evaluator", *module.relative_to(PACKAGE).parent.parts)
    names: set[str] = set()
    for node in parsed(module):
        if isinstance(node, ast.Import):
            names |= {alias.name for alias in node.names}
        elif isinstance(node, ast.ImportFrom):
            base = list(package[: len(package) - node.level + 1]) if node.level else []
            prefix = ".".join(base + ([node.module] if node.module else []))
            names |= {f"{prefix}.{alias.name}" for alias in node.names}
    return names


def layers_imported(module: Path) -> set[str]:
    return {name.split(".")[1] for name in imported(module) if name.startswith("evaluator.") and name.count(".") >= 1}


@pytest.mark.parametrize("layer", LAYERS)
def test_imports_go_down_only(layer: str) -> None:
    if layer in ORDER:
        allowed = set(ORDER[: ORDER.index(layer)])
    elif layer in MEDIA:
        allowed = PURE | (MEDIA - {"store"} if layer == "papers" else set())
    elif layer in DESK:
        allowed = PURE | MEDIA
    elif layer in SHELL or layer == "__main__":
        allowed = PURE | MEDIA | DESK | SHELL
    else:
        allowed = set()
    allowed |= {"__version__", layer}
    upwards = {name: sorted(up) for name, module in in_layer(layer) if (up := layers_imported(module) - allowed)}
    assert not upwards, f"{layer} may not import what these modules do"


@pytest.mark.parametrize("layer", ORDER)
def test_the_core_is_pure(layer: str) -> None:
    for name, module in in_layer(layer):
        roots = {one.split(".")[0] for one in imported(module)}
        assert not roots & FORBIDDEN_IN_CORE, name
        calls = {
            node.func.id for node in parsed(module) if isinstance(node, ast.Call) and isinstance(node.func, ast.Name)
        }
        assert not calls & NEVER_IN_CORE_CALLS, name


def test_a_room_holds_at_most_a_dozen_modules() -> None:
    rooms = Counter(
        module.parent.relative_to(PACKAGE).as_posix()
        for module in MODULES
        if module.stem != "__init__" and "migrations" not in module.parts
    )
    assert {room: count for room, count in rooms.items() if count > MOST_MODULES} == {}


def test_no_module_stands_loose_in_the_package() -> None:
    assert {m.stem for m in PACKAGE.glob("*.py")} == {"__init__", "__main__"}


LEAST_LINES, MOST_LINES = 60, 300
# Tables: one entry beside the other, and no second subject in them.
TABLES = {"rubric/keys/rubric.py", "store/finding/tables.py", "store/desk/tables.py", "drawings/registry.py"}
SMALL = {
    "__main__.py": "what `python -m evaluator` runs",
    "basis/zipped.py": "four rooms need it, and its hosts would load a zip reader where none is wanted",
    "drawings/names.py": "known without loading a pen",
    "figures/asking.py": "no other figure has to do with it",
    "web/processes.py": "its name stands in the unit files of workshops",
    "yearly/tables.py": "the record that its siblings, a figure, a paper and a page share",
}


def test_a_module_holds_one_subject_and_the_whole_of_it() -> None:
    lines = {
        name: len(module.read_text("utf-8").splitlines())
        for layer in LAYERS
        for name, module in in_layer(layer)
        if module.stem != "__init__" and "migrations" not in module.parts and name not in TABLES
    }
    assert {name: count for name, count in lines.items() if count > MOST_LINES} == {}
    assert {name for name, count in lines.items() if count < LEAST_LINES} == set(SMALL)
