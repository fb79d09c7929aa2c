"""A value out of JSON, of which nothing is known yet: asked what it is before it is used.

Each reader gives the value as what it should be, or raises ValueError: whoever took it from outside tells in a sentence
which file or record it was. In a record of our own it is a bug.
"""

from collections.abc import Mapping

JsonObject = Mapping[str, object]


def as_object(value: object) -> JsonObject:
    """The value as an object of JSON: names with values."""
    if not isinstance(value, Mapping):
        raise ValueError(f"an object was expected, not {type(value).__name__}")
    return value


def as_list(value: object) -> list[object]:
    """The value as a list."""
    if not isinstance(value, list):
        raise ValueError(f"a list was expected, not {type(value).__name__}")
    return value


def as_text(value: object) -> str:
    """The value as a text."""
    if not isinstance(value, str):
        raise ValueError(f"a text was expected, not {type(value).__name__}")
    return value
