"""Who a paper is for, by name, and which evaluation it is handed out of, in which version and by whom.

Kept apart from the stories, so that a command can name readers without loading those.
"""

from collections.abc import Mapping
from dataclasses import field
from typing import TYPE_CHECKING

from ..basis import show
from ..basis.frozen import dataclass
from ..basis.units import METRIC, ShownUnits

if TYPE_CHECKING:
    from ..result.model.result import Result

TITLES = {
    "parent": "In two pages",
    "buyer": "For the buyer",
    "shop": "For the shop",
    "customer": "Proposed work",
    "annex": "Technical annex",
    "condition": "Condition report",
}
PAGES = {"parent": 2, "customer": 3}  # what a reader's paper must hold in


@dataclass(frozen=True, slots=True)
class Issued:
    """`version` None outside the records, where `day` (ISO) is that of the last look or else of printing (empty for
    neither); `draft`: answers may still change. `contact`: how to reach the shop, which may be empty.

    `pictures`: photographs by their names in the answers; `logo` of the shop; `page`: the address where the newest
    version stands, with its code's `squares`; both empty where others cannot reach it. `units` of readings and limits.
    `covering`: a paragraph in the luthier's own words. `card`: what is known of which instrument it is (what, as said);
    `sides`: photographs of it from all sides (which, picture). `before`: an earlier finished look at it (day, result).
    """

    number: str
    version: int | None
    day: str
    draft: bool
    contact: tuple[str, ...] = ()
    pictures: Mapping[str, bytes] = field(default_factory=dict)
    logo: bytes = b""
    page: str = ""
    squares: tuple[tuple[bool, ...], ...] = ()
    units: ShownUnits = METRIC
    covering: str = ""
    card: tuple[tuple[str, str], ...] = ()
    sides: tuple[tuple[str, bytes], ...] = ()
    before: "tuple[str, Result] | None" = None

    @property
    def line(self) -> str:
        """'Evaluation 3f2a, version 4, of 2 March 2026.' A draft says that it is one."""
        if self.draft:
            return f"Draft, answers may still change: evaluation {self.name}, as of {show.day(self.day)}."
        if self.version is None:
            return f"Evaluation {self.name}, as of {show.day(self.day)}." if self.day else f"Evaluation {self.name}."
        return f"Evaluation {self.name}, finished on {show.day(self.day)}."

    @property
    def name(self) -> str:
        return self.number if self.version is None else f"{self.number}, version {self.version}"
