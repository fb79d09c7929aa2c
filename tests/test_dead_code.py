"""Nothing stands in the program that no page, paper or command uses, as a finder of dead code (vulture) sees it."""

import re
from pathlib import Path

from vulture import Vulture

import evaluator

PACKAGE = Path(evaluator.__file__).parent
TEMPLATES = PACKAGE.parent / "templates"
KINDS = {"function", "class", "method", "property"}
# What is called by a framework that was handed it.
CALLED_BY_ITS_DECORATOR = ["@*.route", "@*.get", "@*.post", "@*.put", "@*.command", "@*.group", "@model_validator",
                           "@*.operation", "@operation", "@*.before_request", "@*.after_request", "@*.errorhandler",
                           "@*.app_errorhandler", "@*.context_processor", "@*.user_loader", "@event.listens_for",
                           "@listens_for", "@*.listens_for"]  # fmt: skip
ALLOWED = {
    "afterFlowable": "asked by reportlab after each block",
    "application": "named on the command line of a server of several processes",
    "get_id": "asked by flask_login",
    "glossary_schema": "writes rubrics/glossary.schema.json, by its test",
    "key_reference": "writes the table of keys of rubrics/README.md, by its test",
    "make_quote": "a quote straight from an estimate, by which the tests of quoting read their few lines",
}


def unused() -> dict[str, str]:
    """By name where each thing stands that no other code, template or decorator names."""
    finder = Vulture(ignore_decorators=CALLED_BY_ITS_DECORATOR)
    finder.scavenge([str(PACKAGE)], exclude=["*/migrations/*"])
    shown = set(re.findall(r"\w+", "\n".join(page.read_text("utf-8") for page in TEMPLATES.rglob("*.*ml"))))
    return {
        item.name: f"{item.filename}:{item.first_lineno}"
        for item in finder.get_unused_code()
        if item.typ in KINDS and item.name not in shown
    }


def test_nothing_is_unused_and_what_is_allowed_is_still_there() -> None:
    found = unused()
    assert {name: place for name, place in found.items() if name not in ALLOWED} == {}
    assert set(found) >= set(ALLOWED)
