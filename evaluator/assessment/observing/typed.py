"""What was typed of one instrument on the pages, as it is kept: texts as typed, nothing judged.

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
