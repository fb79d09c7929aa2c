"""Texts over several lines break where the line is full: nobody reads a rubric whose lines end in the middle of one."""

from collections.abc import Iterator
from itertools import pairwise
from pathlib import Path

import pytest
import yaml

from evaluator.store.folders import rubrics_folder

FILES = sorted(rubrics_folder().rglob("*.yaml"))
LEAST = 40  # letters of a line that goes on


def texts(node: yaml.Node) -> Iterator[yaml.ScalarNode]:
    """The texts over several lines, whose breaks are no part of them."""
    if isinstance(node, yaml.MappingNode):
        for _, value in node.value:
            yield from texts(value)
    elif isinstance(node, yaml.SequenceNode):
        for value in node.value:
            yield from texts(value)
    elif node.style != "|" and node.end_mark.line > node.start_mark.line:
        yield node


def cut_short(text: str) -> list[str]:
    """The lines that end in the middle of a sentence though the next word had room."""
    lines = text.splitlines()
    found = []
    for node in texts(yaml.compose(text, Loader=yaml.CSafeLoader)):
        own = lines[node.start_mark.line + (node.style == ">") : node.end_mark.line + (node.style != ">")]
        for line, after in pairwise(own):
            goes_on = line.strip() and after.strip() and line.strip()[-1] not in ".!?:;"
            if goes_on and len(line.strip()) < LEAST:
                found.append(line.strip())
    return found


@pytest.mark.parametrize("path", FILES, ids=lambda path: path.name)
def test_no_line_of_a_text_ends_after_a_few_words(path: Path) -> None:
    assert cut_short(path.read_text("utf-8")) == []


def test_a_line_that_is_cut_short_is_found() -> None:
    assert cut_short("why: >-\n  A bridge\n  that falls.\n") == ["A bridge"]
    assert cut_short("why: >-\n  A short one.\n  It ends.\n") == []
