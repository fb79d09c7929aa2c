"""What would bring an extra, when that will be known, and why no work cures a fault: coded, words are in `wording`.

A trigger carries phrases of the rubric (`say`, `ask`) as they are written there, and no sentence.
"""

from typing import Annotated, Literal, TypeAlias

from pydantic import Field

from ..assessment.reasons.facts import AsWritten
from ..basis.frozen import dataclass
from ..basis.record import Record

# Why no work of the plan cures a fault: nothing does, and it lowers the worth; no job of the catalogue does; what does
# cannot be combined with the other work.
Uncured = Literal["inherent", "no_job", "clash"]


@dataclass(frozen=True, slots=True, kw_only=True)
class IfFound(Record):
    """A fault that is only possible: the extra comes if it is there. `on_limit`: a reading lies on the limit."""

    code: Literal["if_found"] = "if_found"
    say: str
    on_limit: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Brings(Record):
    """A job of the plan that may bring it, in the rubric's own words."""

    code: Literal["brings"] = "brings"
    say: str


@dataclass(frozen=True, slots=True, kw_only=True)
class ByLook(Record):
    """A look would tell, in so many minutes; of a reading `on_limit` the bench or a finer tool does."""

    code: Literal["by_look"] = "by_look"
    ask: str
    minutes: float
    on_limit: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class AtTheBench(Record):
    """It is known as the rubric says."""

    code: Literal["at_the_bench"] = "at_the_bench"
    say: str


Trigger: TypeAlias = Annotated[IfFound | Brings | AsWritten, Field(discriminator="code")]
Known: TypeAlias = Annotated[ByLook | AtTheBench | AsWritten, Field(discriminator="code")]
