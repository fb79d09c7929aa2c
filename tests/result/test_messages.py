"""Every mistake that the core tells of: half a sentence of what is wrong, and a whole one of what to do."""

import re
from collections.abc import Iterator
from importlib import import_module
from pkgutil import walk_packages

import pytest

from evaluator.basis.problem import Message

CORE = ("assessment", "estimate", "valuation", "result")
CAPITALS = {"USD", "CSV", "UTF", "XLSX", "ODS", "XLS", "MB"}
FILLED = re.compile(r"(?<!\{)\{\w+\}(?!\})")


def messages() -> Iterator[tuple[str, Message]]:
    for core in CORE:
        package = import_module(f"evaluator.{core}")
        for found in walk_packages(package.__path__, f"{package.__name__}."):
            yield from vars(import_module(found.name)).get("MESSAGES", {}).items()


EVERY = {code: one for code, one in messages() if code != "example.unreadable"}  # that one hands on another's words


def test_there_are_messages_to_read() -> None:
    assert len(EVERY) > 40


@pytest.mark.parametrize("code", EVERY)
def test_what_is_wrong_goes_on_behind_the_place_and_what_to_do_is_a_sentence(code: str) -> None:
    assert re.fullmatch(r"[a-z]+\.[a-z_]+", code)
    what, do = EVERY[code].what, EVERY[code].do
    assert re.match(r'[a-z"]', FILLED.sub("x", what)) and what.endswith(".")
    assert do == "{hint}" or (do[0].isupper() and do.removesuffix(" {hint}").endswith((".", '"')))
    words = re.findall(r"[A-Za-z]{2,}", FILLED.sub("x", what + " " + do))
    assert {word for word in words if word.isupper()} <= CAPITALS
