"""What comes before what: the first page, on which it is seen to be safe, and what checks wait for."""

from pydantic import Field

from .written.kinds import Id, Text, Written


class Safety(Written):
    """The first page: what must be seen to be safe, in this order, before anything is tuned, played or tightened."""

    say: Text
    intro: Text | None = None
    checks: tuple[Id, ...] = Field(min_length=1)


class Wait(Written):
    """Outcomes, as check.outcome, under one name, so that checks need only name that under `postponed_by`."""

    wait: Id
    say: Text
    outcomes: tuple[Text, ...] = Field(min_length=1)
