"""A YAML or JSON text as plain data, with the line and column of every key and value.

One strict subset of YAML for rubrics, shop files and evaluation files: no anchors, aliases, tags, merge keys or doubled
keys, and nothing changes its type behind the writer's back: `no`, `on`, `12:30`, `2026-01-02`, `010` and `1e999` stay
the text that was typed. Only plain numbers, `true`, `false`, `null` and `~` are anything else. JSON is read by the same
reader, because JSON is YAML. Size and depth are bounded before anything is built.

It reads libyaml's events one after another: quicker than composing nodes, and it can stop at the first level too deep.
"""

import re
from collections.abc import Callable
from dataclasses import field
from typing import Any, TypeAlias

import yaml

from .frozen import dataclass
from .problem import Message, Messages, Place, Problem, problem
from .spots import Children, Spot, meant

MAX_BYTES = 2_000_000
MAX_DEPTH = 20  # a check is five to seven levels deep
MAX_PROBLEMS = 200  # a file this wrong is not the file that was meant; nobody reads further

MESSAGES: Messages = {
    "document.too_large": Message("the file is larger than {limit} MB.", "Give a smaller file."),
    "document.binary": Message(
        "this is not a text file.", "Give a YAML or JSON file in UTF-8, as any text editor saves it."
    ),
    "document.empty": Message("the file is empty.", "Write something in it, or name another file."),
    "document.not_a_mapping": Message(
        "the file is a {found}, not keys with values.", "Start with a line like rubric: violin."
    ),
    "document.syntax": Message("the text cannot be read from here: {why}.", "{hint}"),
    "document.tab": Message("a tab stands where YAML wants spaces.", "Indent with spaces."),
    "document.several": Message("a second document starts here (---).", "Keep one document in a file."),
    "document.alias": Message(
        "anchors and aliases (& and *) are not used here.", "Write the value out, or quote the text."
    ),
    "document.tag": Message('the tag "{tag}" is not used here.', "Take it away, or quote the text."),
    "document.merge": Message("merge keys (<<) are not used here.", "Write the keys out."),
    "document.double_key": Message('the key "{key}" is written twice, first in line {first}.', "Keep one of them."),
    "document.blank_key": Message("a key is blank.", "Write key: value."),
    "document.brace_key": Message(
        "a list or mapping stands where a key was expected.", "Put a text that starts with {{ or [ in quotes."
    ),
    "document.too_deep": Message("this is nested deeper than {limit} levels.", "Write it flatter."),
}

_NOT_TEXT = re.compile("[\x00-\x08\x0b\x0c\x0e-\x1f\x7f\ud800-\udfff\ufffe\uffff]")


_spot = tuple.__new__  # a rubric has 20,000 spots: this makes one in half the time that Spot(...) takes


# A key may be a text or a number, and what stands under it is known only when somebody has read it.
Data: TypeAlias = dict[Any, Any]  # as above
Event: TypeAlias = Any  # libyaml's events have no common type for what is asked of them here


@dataclass(frozen=True, slots=True)
class Document:
    """Plain data (dict, list, str, int, float, bool, None), the places of all of it, and the text to quote from."""

    name: str
    data: Data
    spot: Spot
    text: str = field(repr=False, default="")

    def spot_at(self, *path: object) -> Spot:
        """The spot of the value at this path, or of the last one on the way that exists."""
        here = self.spot
        for step in path:
            inner = here.child(step)
            if inner is None:
                break
            here = inner
        return here

    def place(self, *path: object, key: bool = False) -> Place:
        """Where the value at a path stands, or with `key` its key; the innermost that exists on the way."""
        spot = self.spot_at(*path)
        if key and spot.key_line:
            return Place(self.name, spot.key_line, spot.key_column)
        return Place(self.name, spot.line, spot.column)

    def line(self, number: int) -> str:
        """The text of a line, counted from 1, for quoting it; empty outside."""
        lines = self.text.split("\n")
        return lines[number - 1].rstrip("\r") if 0 < number <= len(lines) else ""


def parse_document(text: bytes | str, name: str) -> tuple[Document | None, tuple[Problem, ...]]:
    """The data of a YAML or JSON text, or every mistake of form in it; `name` is shown before line and column."""
    read = _decoded(text)
    if isinstance(read, str) and not read.strip():
        read = problem(MESSAGES, "document.empty")
    if not isinstance(read, str):
        return None, (Problem(read.code, "", read.what, read.what_to_do, Place(name)),)
    builder = _Builder(name, read)
    data, spot = builder.build()
    if not builder.problems and not isinstance(data, dict):
        builder.found("document.not_a_mapping", 1, 1, found="list" if isinstance(data, list) else "single value")
    if builder.problems or not isinstance(data, dict) or spot is None:
        return None, tuple(builder.problems)
    return Document(name, data, spot, read), ()


def _decoded(text: bytes | str) -> str | Problem:
    """UTF-8 text without byte order mark, or why it is none."""
    if len(text) > MAX_BYTES:
        return problem(MESSAGES, "document.too_large", limit=MAX_BYTES // 1_000_000)
    try:
        read = text.decode("utf-8-sig") if isinstance(text, bytes) else text.removeprefix("\ufeff")
    except UnicodeDecodeError:
        return problem(MESSAGES, "document.binary")
    return problem(MESSAGES, "document.binary") if _NOT_TEXT.search(read) else read


class _StopError(Exception):
    """Left the walk at something after which nothing can be read; the problem is in the list already."""


class _Builder:
    """Builds data and spots from events, and collects what is not allowed."""

    def __init__(self, name: str, text: str) -> None:
        self.name = name
        self.text = text
        self.problems: list[Problem] = []
        self.next: Callable[[], Event] = yaml.CSafeLoader(text).get_event  # quicker than the generator yaml.parse

    def build(self) -> tuple[object, Spot | None]:
        try:
            return self.document()
        except _StopError:
            pass
        except yaml.MarkedYAMLError as error:
            self.broken(error)
        except yaml.YAMLError:
            self.found("document.binary", 0, 0)
        return None, None

    def document(self) -> tuple[object, Spot]:
        self.next()  # the start of the stream
        if not isinstance(self.next(), yaml.DocumentStartEvent):
            self.found("document.empty", 0, 0)
            raise _StopError
        data, spot = self.value(self.next(), 0, 0, 0)
        self.next()
        extra = self.next()
        if isinstance(extra, yaml.DocumentStartEvent):
            self.at("document.several", extra)
        return data, spot

    def found(self, code: str, line: int, column: int, **words: object) -> None:
        self.problems.append(problem(MESSAGES, code, "", Place(self.name, line, column), **words))
        if len(self.problems) >= MAX_PROBLEMS:
            raise _StopError

    def at(self, code: str, event: Event, **words: object) -> None:
        self.found(code, event.start_mark.line + 1, event.start_mark.column + 1, **words)

    def broken(self, error: yaml.MarkedYAMLError) -> None:
        """What libyaml could not read, in words, at the place where it noticed, with the usual reason as a hint."""
        said = error.problem or "the text breaks off"
        if "nesting depth" in said:
            self.problems.append(problem(MESSAGES, "document.too_deep", "", Place(self.name), limit=MAX_DEPTH))
            return
        mark = error.problem_mark or error.context_mark
        if error.context_mark and ("flow" in (error.context or "") or "quoted" in (error.context or "")):
            mark = error.context_mark  # an open bracket or quote is noticed far below: point to where it was opened
        line, column = (mark.line + 1, mark.column + 1) if mark else (0, 0)
        lines = self.text.split("\n")
        written = lines[line - 1] if 0 < line <= len(lines) else ""
        if "\t" in written[: max(column, 1)]:
            self.problems.append(problem(MESSAGES, "document.tab", "", Place(self.name, line, column)))
            return
        why, hint = next(
            ((why, hint) for part, why, hint in _SYNTAX if part in said),
            (said, "Check indentation, quotes and colons."),
        )
        place = Place(self.name, line, column)
        self.problems.append(problem(MESSAGES, "document.syntax", "", place, why=why, hint=hint))

    def value(self, event: Event, depth: int, key_line: int, key_column: int) -> tuple[object, Spot]:
        if type(event) is yaml.AliasEvent:
            self.at("document.alias", event)
            return None, self.spot(event, key_line, key_column, None)
        if event.anchor is not None:
            self.at("document.alias", event)
        if event.tag is not None and event.tag != "!":
            self.at("document.tag", event, tag=event.tag.replace("tag:yaml.org,2002:", "!!"))
        if type(event) is yaml.ScalarEvent:
            return self.scalar(event, key_line, key_column)
        if depth >= MAX_DEPTH:
            self.at("document.too_deep", event, limit=MAX_DEPTH)
            raise _StopError
        if type(event) is yaml.SequenceStartEvent:
            return self.sequence(event, depth, key_line, key_column)
        return self.mapping(event, depth, key_line, key_column)

    @staticmethod
    def spot(event: Event, key_line: int, key_column: int, children: Children) -> Spot:
        mark = event.start_mark
        return _spot(Spot, (mark.line + 1, mark.column + 1, 0, key_line, key_column, children))

    @staticmethod
    def scalar(event: Event, key_line: int, key_column: int) -> tuple[object, Spot]:
        mark, style = event.start_mark, event.style
        line, column = mark.line + 1, mark.column + 1
        text_column = 0
        if style not in {"|", ">"} and event.end_mark.line == mark.line:
            text_column = column + 1 if style else column
        value = event.value if style else meant(event.value)
        return value, _spot(Spot, (line, column, text_column, key_line, key_column, None))

    def sequence(self, event: Event, depth: int, key_line: int, key_column: int) -> tuple[list[object], Spot]:
        values: list[object] = []
        spots: list[Spot] = []
        while type(inner := self.next()) is not yaml.SequenceEndEvent:
            value, spot = self.value(inner, depth + 1, 0, 0)
            values.append(value)
            spots.append(spot)
        return values, self.spot(event, key_line, key_column, spots)

    def mapping(self, event: Event, depth: int, key_line: int, key_column: int) -> tuple[Data, Spot]:
        values: Data = {}
        spots: dict[object, Spot] = {}
        while type(inner := self.next()) is not yaml.MappingEndEvent:
            key = self.key(inner, depth)
            mark = inner.start_mark
            line, column = mark.line + 1, mark.column + 1
            value, spot = self.value(self.next(), depth + 1, line, column)
            if key in spots:
                self.found("document.double_key", line, column, key=key, first=spots[key].key_line)
            elif key is not None:
                values[key], spots[key] = value, spot
        return values, self.spot(event, key_line, key_column, spots)

    def key(self, event: Event, depth: int) -> str | int | float | None:
        """A key: a text or number; None when it may not be used (the problem is noted)."""
        if type(event) is yaml.AliasEvent:
            self.at("document.alias", event)
            return None
        if type(event) is not yaml.ScalarEvent:
            self.at("document.brace_key", event)
            self.value(event, depth + 1, 0, 0)
            return None
        if event.anchor is not None:
            self.at("document.alias", event)
        if event.value == "<<" and not event.style:
            self.at("document.merge", event)
            return None
        if not event.value:
            self.at("document.blank_key", event)
            return None
        key = event.value if event.style else meant(event.value)
        return event.value if key is None or isinstance(key, bool) else key


# (part of what libyaml says, what that means, what usually helps)
_SYNTAX: tuple[tuple[str, str, str], ...] = (
    ("mapping values are not allowed", "a colon stands where none can be", "Put a text with a colon in quotes."),
    ("did not find expected key", "a key was expected", "Check the indentation and the quotes of the line above."),
    ("did not find expected '-'", "a list item (-) was expected", "Give every item of the list the same indentation."),
    ("',' or '}'", "the brace { is not closed, or a comma is missing", "Close it, and quote texts with a comma."),
    ("',' or ']'", "the bracket [ is not closed, or a comma is missing", "Close it, and quote texts with a comma."),
    ("could not find expected ':'", "a colon is missing after a key", "Write key: value."),
    ("found unexpected end of stream", "a quotation mark is not closed", "Close the quotes."),
    ("cannot start any token", "a sign stands here that cannot begin a value", "Put the text in quotes."),
    ("unknown escape character", "a backslash stands inside double quotes", "Use single quotes for this text."),
    ("block sequence entries", "a list item (-) stands where none can be", "Put the list on its own lines."),
    ("expected alphabetic", "& or * stands before a text", "Put the text in quotes."),
    ("expected node content", "a value was expected", "Close the bracket above, or write the value."),
    ("expected <document start>", "the indentation falls back too far", "Start every key of one level in one column."),
)
