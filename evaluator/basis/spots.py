"""Where the values of a text stand, and what an unquoted one means: some numbers keep their text.

Only plain decimal numbers, true, false, null and ~ are anything but text: no, 12:30 and 010 stay as typed.
"""

import re
from typing import NamedTuple, TypeAlias

_NUMBER = re.compile(r"-?(?:0|[1-9][0-9]{0,17})(\.[0-9]{1,18})?")
_CONSTANTS: dict[str, bool | None] = {"true": True, "false": False, "null": None, "~": None, "": None}


class Spot(NamedTuple):
    """Where one value stands, and its key (0 in a list or at the top).

    `text_column` is the column of the first letter inside quotes; 0 for folded text, whose columns cannot be told.
    `children` holds the spots inside, by key or by position.
    """

    line: int
    column: int
    text_column: int
    key_line: int
    key_column: int
    children: "Children"

    def child(self, step: object) -> "Spot | None":
        """The spot of the value under a key or at a position; None when there is none."""
        if isinstance(self.children, dict):
            found: Spot | None = self.children.get(step)
            return found
        if isinstance(self.children, list) and isinstance(step, int) and 0 <= step < len(self.children):
            item: Spot = self.children[step]
            return item
        return None


Children: TypeAlias = "dict[object, Spot] | list[Spot] | None"


class WrittenNumber(float):
    """A number whose text says more than its value, such as 1.450: a reader of money asks whether it is a thousand."""

    __slots__ = ("text",)
    text: str

    def __new__(cls, text: str) -> "WrittenNumber":
        made = super().__new__(cls, text)
        made.text = text
        return made

    def __reduce__(self) -> tuple[type["WrittenNumber"], tuple[str]]:
        return WrittenNumber, (self.text,)


def meant(text: str) -> str | int | float | bool | None:
    """What an unquoted word means: a plain decimal number, true, false or null, else the text itself."""
    if text in _CONSTANTS:
        return _CONSTANTS[text]
    if text[-1] in "0123456789" and (match := _NUMBER.fullmatch(text)):
        return (WrittenNumber if text[-1] == "0" else float)(text) if match[1] else int(text)
    return text
