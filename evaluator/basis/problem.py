"""A user's mistake as a value: where, what, what to do.

Mistakes in a rubric, a shop file, an evaluation file or a form field are collected and shown all at once. Only bugs are
exceptions that reach the top. Each module of the core that reads what a person wrote keeps a table of its messages, one
template a code; `rubric.sense.messages` joins them into one catalogue for reading aloud.
"""

from collections.abc import Iterable, Mapping, Sequence

from .frozen import dataclass


@dataclass(frozen=True, slots=True, order=True)
class Place:
    """A spot in a text: file name as the user gave it, line and column counted from 1 (0: the whole file)."""

    file: str
    line: int = 0
    column: int = 0

    def __str__(self) -> str:
        return f"{self.file}:{self.line}:{self.column}" if self.line else self.file


@dataclass(frozen=True, slots=True)
class Problem:
    """One mistake in one sentence or two.

    `code` names the kind of mistake (a key of the catalogue), `where` the thing in words ('check "nut_height"', a field
    label), `what` is wrong, `what_to_do` is an imperative. `place` is None when the mistake is not in a file.
    """

    code: str
    where: str
    what: str
    what_to_do: str = ""
    place: Place | None = None

    def __str__(self) -> str:
        place = f"{self.place} " if self.place else ""
        where = f"{self.where}: " if self.where else ""
        return f"{place}{where}{self.what}" + (f" {self.what_to_do}" if self.what_to_do else "")


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


def by_place(problems: Iterable[Problem]) -> tuple[Problem, ...]:
    """The problems in reading order: by file, line and column, those without a place first."""
    return tuple(sorted(problems, key=lambda p: (p.place or Place(""), p.where, p.what)))


MOST_TOLD = 50  # nobody mends more than this from one list; the rest is counted


@dataclass(slots=True)
class Hints:
    """Near words for the mistakes of one reading: looked for while there are few, since a search costs half a
    millisecond and a file may hold sixty thousand unknown words.
    """

    left: int = MOST_TOLD

    def near(self, word: str, known: Iterable[str]) -> str:
        """'Did you mean "weight"?', or empty where no known word is close or enough were looked for."""
        if self.left <= 0:
            return ""
        self.left -= 1
        return did_you_mean(word, known)


def first_told(problems: Sequence[Problem]) -> tuple[Sequence[Problem], str]:
    """(those to list, a sentence that counts the rest; empty without any)."""
    rest = len(problems) - MOST_TOLD
    more = f"And {rest:,} more." if rest > 0 else ""
    return problems[:MOST_TOLD], more


def did_you_mean(word: str, known: Iterable[str]) -> str:
    """'Did you mean "weight"?' when a known word is close, else the empty string."""
    from difflib import get_close_matches  # late: most commands find nothing wrong

    near = get_close_matches(word, list(known), n=1, cutoff=0.6)
    return f'Did you mean "{near[0]}"?' if near else ""
