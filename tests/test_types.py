"""What has no type is counted: `Any` stands where a library gives none, and below the reader of JSON."""

import ast
import re
from pathlib import Path

import evaluator

PACKAGE = Path(evaluator.__file__).parent
# They turn texts and JSON into records: what comes in has no shape before they have looked.
READERS = ("basis/document.py", "rubric/files/", "result/json_form.py", "result/old_forms.py")
MOST_IN_READERS = 6
MOST = 2


def uses(readers: bool = False) -> dict[str, list[int]]:
    """By module above the readers of JSON (or of these alone) the lines in which `Any` is used."""
    found: dict[str, list[int]] = {}
    for module in sorted(PACKAGE.rglob("*.py")):
        name = module.relative_to(PACKAGE).as_posix()
        if name.startswith(READERS) != readers or "_data" in module.parts:
            continue
        nodes = ast.walk(ast.parse(module.read_text("utf-8")))
        # A quoted annotation is a text in the tree.
        named = [
            node.lineno
            for node in nodes
            if (isinstance(node, ast.Name) and node.id == "Any")
            or (isinstance(node, ast.Constant) and isinstance(node.value, str) and re.search(r"\bAny\]", node.value))
        ]
        if named:
            found[name] = named
    return found


def test_any_is_rare() -> None:
    assert sum(map(len, uses().values())) <= MOST, uses()
    assert sum(map(len, uses(readers=True).values())) <= MOST_IN_READERS, uses(readers=True)


def test_each_any_says_why() -> None:
    for name, lines in (uses() | uses(readers=True)).items():
        text = (PACKAGE / name).read_text("utf-8").split("\n")
        for line in lines:
            assert "#" in text[line - 1] or text[line - 2].strip().startswith("#"), f"{name}:{line}"
