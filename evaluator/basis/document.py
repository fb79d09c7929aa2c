"""YAML or JSON text as plain data that knows where each key and value stands.

YAML by PyYAML's C parser, with what surprises people shut out: no aliases, no merge keys, no double keys; `no`, `on`, `12:30`
and dates stay the text that was written; only true, false, null and plain decimal numbers become values. JSON is YAML here.
"""

import math
import re
from dataclasses import dataclass

import yaml

from .message import Message, Messages, problem
from .problem import Place, Problem

MOST_BYTES = 2_000_000
DEEPEST = 40

MESSAGES: Messages = {
    "document.too_big": Message("is larger than 2 MB.", "Give a file that a person wrote."),
    "document.binary": Message("is not a text file.", "Give a YAML or JSON file in UTF-8."),
    "document.empty": Message("is empty.", "Write at least one key and its value."),
    "document.syntax": Message("cannot be read here: {reason}.", "Look at the colon, quotes and spaces of this line."),
    "document.deep": Message("is nested too deeply.", "Write it with fewer levels."),
    "document.alias": Message("this repeats another place by an alias (*).", "Write it out here."),
    "document.merge": Message("a merge key (<<) is not allowed.", "Write the keys out here."),
    "document.double": Message('the key "{key}" stands here twice, first on line {line}.', "Keep one of them."),
    "document.key": Message("a key must be a word or a number.", "Write the key as one word, then a colon."),
    "document.several": Message("holds more than one document (---).", "Keep one document a file."),
}

_WHOLE = re.compile(r"[-+]?(?:0|[1-9][0-9]*)")
_DECIMAL = re.compile(r"[-+]?(?:[0-9]+\.[0-9]*|\.[0-9]+|[0-9]+)(?:[eE][-+]?[0-9]+)?")
_WORDS = {"true": True, "false": False, "null": None, "~": None, "": None}
_MERGE = "tag:yaml.org,2002:merge"


@dataclass(frozen=True, slots=True)
class Document:
    """`data` is made of dict, list, str, int, float, bool and None; `name` is the file's name as the user gave it."""

    name: str
    data: object
    root: yaml.Node

    def place(self, *path: str | int, key: bool = False) -> Place:
        """Where the value at a path stands (with `key`, its key); steps that the text does not have are passed over."""
        node, found = self.root, self.root
        for step in path:
            child = _child(node, step)
            if child is not None:
                found, node = (child[0] if key and step == path[-1] else child[1]), child[1]
        return Place(self.name, found.start_mark.line + 1, found.start_mark.column + 1)

    def line(self, number: int) -> str:
        """The text of a line, counted from 1, for quoting it."""
        buffer = self.root.start_mark.buffer
        lines = buffer.splitlines() if buffer else []
        return lines[number - 1] if 0 < number <= len(lines) else ""


def _child(node: yaml.Node, step: str | int) -> tuple[yaml.Node, yaml.Node] | None:
    if isinstance(node, yaml.MappingNode):
        return next(((key, value) for key, value in node.value if _scalar(key) == step or key.value == step), None)
    if isinstance(node, yaml.SequenceNode) and isinstance(step, int) and step < len(node.value):
        return node.value[step], node.value[step]
    return None


def _scalar(node: yaml.Node) -> object:
    text: str = node.value
    if node.style is not None:
        return text
    if text in _WORDS:
        return _WORDS[text]
    if _WHOLE.fullmatch(text):
        return int(text) if len(text) < 18 else text
    if _DECIMAL.fullmatch(text) and not re.match(r"[-+]?0[0-9]", text):
        number = float(text)
        return number if math.isfinite(number) else text
    return text


class _Builder:
    """Turns the node tree into data and notes every mistake on the way."""

    def __init__(self, name: str) -> None:
        self.name = name
        self.problems: list[Problem] = []
        self.seen: set[int] = set()

    def note(self, code: str, node: yaml.Node, **words: object) -> None:
        place = Place(self.name, node.start_mark.line + 1, node.start_mark.column + 1)
        self.problems.append(problem(MESSAGES, code, "", place, **words))

    def build(self, node: yaml.Node, depth: int) -> object:
        if id(node) in self.seen:
            self.note("document.alias", node)
            return None
        self.seen.add(id(node))
        if depth > DEEPEST:
            self.note("document.deep", node)
            return None
        if isinstance(node, yaml.MappingNode):
            return self.mapping(node, depth)
        if isinstance(node, yaml.SequenceNode):
            return [self.build(item, depth + 1) for item in node.value]
        return _scalar(node)

    def mapping(self, node: yaml.MappingNode, depth: int) -> dict[object, object]:
        data: dict[object, object] = {}
        lines: dict[object, int] = {}
        for key_node, value_node in node.value:
            if key_node.tag == _MERGE:
                self.note("document.merge", key_node)
                continue
            key = _scalar(key_node) if isinstance(key_node, yaml.ScalarNode) else None
            if key is None or isinstance(key, bool):
                self.note("document.key", key_node)
                continue
            if key in data:
                self.note("document.double", key_node, key=key, line=lines[key])
                continue
            lines[key] = key_node.start_mark.line + 1
            data[key] = self.build(value_node, depth + 1)
        return data


def parse_document(content: bytes | str, name: str) -> tuple[Document | None, tuple[Problem, ...]]:
    """The document, or every mistake in its form; `name` is what to call the file in a message."""

    def refuse(code: str, line: int = 0, column: int = 0, **words: object) -> tuple[None, tuple[Problem, ...]]:
        return None, (
            problem(MESSAGES, code, "" if line else name, Place(name, line, column) if line else None, **words),
        )

    if len(content) > MOST_BYTES:
        return refuse("document.too_big")
    try:
        text = content.decode("utf-8-sig") if isinstance(content, bytes) else content
    except UnicodeDecodeError:
        return refuse("document.binary")
    if "\0" in text:
        return refuse("document.binary")
    try:
        root = yaml.compose(text, Loader=yaml.CSafeLoader)
    except yaml.MarkedYAMLError as error:
        mark = error.problem_mark or error.context_mark
        if "single document" in str(error):
            return refuse("document.several")
        reason = (error.problem or error.context or "the form is wrong").strip()
        return refuse("document.syntax", mark.line + 1 if mark else 1, mark.column + 1 if mark else 1, reason=reason)
    except yaml.YAMLError:
        return refuse("document.binary")
    except RecursionError:
        return refuse("document.deep")
    if root is None:
        return refuse("document.empty")
    builder = _Builder(name)
    data = builder.build(root, 0)
    return (None, tuple(builder.problems)) if builder.problems else (Document(name, data, root), ())
