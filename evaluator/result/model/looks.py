"""What is worth looking at next."""

from ...assessment.model import LookWhy
from ...assessment.reasons.facts import AsWritten
from ...basis.frozen import dataclass
from ...basis.record import Record


@dataclass(frozen=True, slots=True, kw_only=True)
class Look(Record):
    """A look with its minutes, and what it brings: money of the decision, or points of the score's variance.

    `why` it is worth taking; `stops`: the chance that it shows a reason to walk away.
    """

    check: str
    ask: str
    part: str
    minutes: float
    gain: float
    gain_unit: str
    why: LookWhy | AsWritten
    stops: float = 0.0
