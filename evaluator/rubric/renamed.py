"""What checks and outcomes were called before: so that every answer that was ever given is still read.

An entry says what an id was, what it is now, and what becomes of its answers. A check that was measured and is now a
choice keeps the standard by which its readings are judged.
"""

from typing import Annotated

from pydantic import Field

from .model import Id, Measure, StandardHere, Text, Whole, Written


class Renamed(Written):
    """A check of before. `now` is the check that asks it today, None where nobody asks it any more.

    `outcomes`: what its outcomes are now. `standard` and `measure`: how its readings were judged. `numbers`: for
    counts, the outcome from this number on.
    """

    was: Id
    now: Id | None = None
    outcomes: dict[Id, Id] = {}
    measure: Measure | None = None
    standard: StandardHere | None = None
    numbers: dict[Annotated[Whole, Field(ge=0)], Id] = {}
    why: Text
