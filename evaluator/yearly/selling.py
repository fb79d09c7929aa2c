"""Learning from the own stock how long an instrument stands before it sells: the guide's months, the own count, and the
blend of both.

The guide's months count as so many sales (`PRIOR_SALES`), as the catalogue's hours do (`quoting.learning.learnt`).
What was made as a class is what its evaluation says; what is still here tells nothing yet, so the blend is a little
too quick while much stands unsold.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from ..choosing.stock import Item
from ..quoting.learning import Learnt, learnt
from ..rubric.written.kinds import ThreePoint

PRIOR_SALES = 5.0  # months from memory are worth about five sales of one's own; judged, no source
DAYS_A_MONTH = 30.44
SHORTEST = 0.1  # months: what sells on the day it came


@dataclass(frozen=True, slots=True)
class Selling:
    """One class of making: how long its own sales took (`months`), how many still stand, and what becomes of both."""

    making: str
    learnt: Learnt
    here: int


def selling(items: Iterable[Item], made_as: Mapping[str, str], guide: Mapping[str, ThreePoint]) -> tuple[Selling, ...]:
    """Every class of the guide that the own stock says anything of, in the guide's order.

    `made_as`: the likeliest class by evaluation; `guide`: months to sell by class.
    """
    held: dict[str, list[Item]] = {}
    for one in items:
        held.setdefault(made_as.get(one.evaluation, ""), []).append(one)
    return tuple(
        Selling(
            making, learnt(months, _months(held[making]), PRIOR_SALES), sum(one.sold_on is None for one in held[making])
        )
        for making, months in guide.items()
        if making in held
    )


def _months(items: Sequence[Item]) -> tuple[float, ...]:
    """How long each that was sold had stood."""
    sold = [(one.sold_on - one.came_on).days for one in items if one.sold_on is not None]
    return tuple(max(SHORTEST, days / DAYS_A_MONTH) for days in sold)
