"""The risk of the purchase: the seller, the terms, the papers, the case and the fit. No points of the instrument."""

from typing import Literal

from ...basis.frozen import dataclass
from ...basis.record import Record

RiskLevel = Literal["stops", "great", "some", "none", "open"]  # open: nobody asked, or it could not be told


@dataclass(frozen=True, slots=True, kw_only=True)
class Risk(Record):
    """One thing that belongs to buying it there. `outcome`, `say` and `means` are of the gravest answer; `outcome` and
    `means` None and `say` empty where there is none."""

    check: str
    part: str
    ask: str
    term: str | None
    outcome: str | None
    say: str
    means: str | None
    level: RiskLevel
