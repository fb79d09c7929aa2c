"""Imports go down only, and the core touches no file, network, clock, web or SQL."""

import ast
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


def imported(module: Path) -> set[str]:
    """Dotted names of what a module imports, relative ones made absolute."""
    package = ("evaluator", *module.relative_to(PACKAGE).parent.parts)
    names: set[str] = set()
    for node in ast.walk(ast.parse(module.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Import):
            names |= {alias.name for alias in node.names}
        elif isinstance(node, ast.ImportFrom):
            base = list(package[: len(package) - node.level + 1]) if node.level else []
            prefix = ".".join(base + ([node.module] if node.module else []))
            names |= {f"{prefix}.{alias.name}" for alias in node.names}
    return names


def layers_imported(module: Path) -> set[str]:
    return {name.split(".")[1] for name in imported(module) if name.startswith("evaluator.") and name.count(".") >= 1}


@pytest.mark.parametrize("module", MODULES, ids=lambda p: str(p.relative_to(PACKAGE)))
def test_imports_go_down_only(module: Path) -> None:
    layer = layer_of(module)
    wanted = layers_imported(module) - {"__version__", layer}
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
    assert wanted <= allowed, f"{layer} may not import {sorted(wanted - allowed)}"


@pytest.mark.parametrize(
    "module", [m for m in MODULES if layer_of(m) in PURE], ids=lambda p: str(p.relative_to(PACKAGE))
)
def test_the_core_is_pure(module: Path) -> None:
    roots = {name.split(".")[0] for name in imported(module)}
    assert not roots & FORBIDDEN_IN_CORE
    calls = {
        node.func.id
        for node in ast.walk(ast.parse(module.read_text(encoding="utf-8")))
        if isinstance(node, ast.Call) and isinstance(node.func, ast.Name)
    }
    assert not calls & NEVER_IN_CORE_CALLS


@pytest.mark.parametrize(
    "folder",
    sorted({m.parent for m in MODULES if "migrations" not in m.parts}),
    ids=lambda p: str(p.relative_to(PACKAGE)),
)
def test_a_room_holds_at_most_a_dozen_modules(folder: Path) -> None:
    assert len([m for m in folder.glob("*.py") if m.stem != "__init__"]) <= MOST_MODULES


def test_no_module_stands_loose_in_the_package() -> None:
    assert {m.stem for m in PACKAGE.glob("*.py")} == {"__init__", "__main__"}


MOST_LINES = 300
# Tables: one entry beside the other, and no second subject in them.
TABLES = {"rubric/keys/rubric.py"}


@pytest.mark.parametrize("module", MODULES, ids=lambda p: str(p.relative_to(PACKAGE)))
def test_a_module_holds_one_subject(module: Path) -> None:
    name = module.relative_to(PACKAGE).as_posix()
    if name not in TABLES:
        assert len(module.read_text("utf-8").splitlines()) <= MOST_LINES
