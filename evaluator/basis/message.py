"""The wording of a mistake: one template a code, filled in where the mistake is found.

Each module of the core that reads what a person wrote keeps a table of its messages; `rubric.messages` joins them into
one catalogue for reading aloud. A template says what is wrong; `do` is an imperative and may be empty.
"""

from collections.abc import Mapping
from dataclasses import dataclass

from .problem import Place, Problem


@dataclass(frozen=True, slots=True)
class Message:
    """`what` and `do` are templates for `str.format`; the words that fill them are named in braces."""

    what: str
    do: str = ""


Messages = Mapping[str, Message]


def problem(messages: Messages, code: str, where: str = "", place: Place | None = None, **words: object) -> Problem:
    """The mistake `code` at a place, its wording filled in."""
    message = messages[code]
    return Problem(code, where, message.what.format(**words), message.do.format(**words).strip(), place)
