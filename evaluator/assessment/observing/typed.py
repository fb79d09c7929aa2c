"""What was typed of one instrument on the pages, as it is kept, and who typed it: texts as typed, nothing judged.

It is plain JSON, so that it stays readable whatever the program becomes; `exchange.evaluation_file` makes a case of it.
"""

from collections.abc import Mapping, Sequence
from typing import NotRequired, TypedDict

from ...rubric.written.kinds import Channel

Answer = Mapping[str, str]  # of one check: outcome, reading, unit, tool, note, seen_by, by, at; each where it was said
Answers = Mapping[str, Answer]  # by check
Start = Mapping[str, str]  # the first page, by field
Photo = Mapping[str, str]  # name, and by, at, film_mm where they are known
Stamp = Sequence[object]  # [version in which a check was answered, its writer]
GUEST = "guest "  # how the writer of somebody with a private link begins: another person, whatever page is open


class Visit(TypedDict):
    """The looks of a visit by id, in their order, and the way of seeing that they are filed under."""

    looks: Sequence[str]
    channel: Channel


class SalesChosen(TypedDict, total=False):
    """What was decided of known sales: keys, grades by key, the share that lasting faults leave, 'yes' or 'no'."""

    set_aside: Sequence[str]
    grades: Mapping[str, str]
    retention: str
    leave_out: str


class Before(TypedDict):
    """The answers of an earlier look: which evaluation, on which day."""

    of: str
    on: str
    answers: Answers


class Typed(TypedDict):
    """All of it. `beside`: by check and writer what others answered; `stamps`: by check who answered when."""

    start: Start
    answers: Answers
    beside: NotRequired[Mapping[str, Answers]]
    photos: NotRequired[Mapping[str, Sequence[Photo]]]
    stamps: NotRequired[Mapping[str, Stamp]]
    plan: NotRequired[Visit]
    sales: NotRequired[SalesChosen]
    before: NotRequired[Before]


def later_by_another(stamp: Stamp | None, version: int, writer: str) -> bool:
    """Whether a check was saved after `version` by another page than this one."""
    return stamp is not None and int(str(stamp[0])) > version and (not writer or stamp[1] != writer)


def another_person(stamp: Stamp | None, writer: str) -> bool:
    """Whether two people answer, as far as that is known: one of the two is a guest."""
    first = str(stamp[1]) if stamp else ""
    return first != writer and (first.startswith(GUEST) or writer.startswith(GUEST))


def answers_of(typed: Typed, writer: str) -> dict[str, Answer]:
    """What this guest alone answered: nobody should see another's answer before giving her own."""
    own = {check: answer for check, answer in typed["answers"].items() if _gave(typed, check, writer)}
    return own | {check: said[writer] for check, said in typed.get("beside", {}).items() if writer in said}


def _gave(typed: Typed, check: str, writer: str) -> bool:
    stamp = typed.get("stamps", {}).get(check)
    return stamp is not None and stamp[1] == writer
