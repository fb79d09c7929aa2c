"""Repair or replace, for an owner; the make-safe work is always offered alone beside it.

Where the advice turns stands in rubrics/owning.yaml. What is advised is a code: `wording.owning` tells it.
"""

from dataclasses import dataclass
from enum import StrEnum

from ..rubric.knowledge import Repairing


class Advice(StrEnum):
    """What to do, each for the reason that holds."""

    CHEAPER_THAN_ITS_EQUAL = "cheaper_than_its_equal"
    COSTS_MORE_THAN_IT_ADDS = "costs_more_than_it_adds"
    TAKES_MOST_OF_THE_VALUE = "takes_most_of_the_value"
    ITS_EQUAL_IS_NO_DEARER = "its_equal_is_no_dearer"
    SMALL_PART_OF_THE_VALUE = "small_part_of_the_value"
    LOOK_AT_ITS_EQUAL = "look_at_its_equal"


@dataclass(frozen=True, slots=True)
class RepairOrReplace:
    """`gain`: what the repair adds to its value; `net_cost`: what it costs after that; `instead`: buying its equal."""

    advice: Advice
    gain: float
    net_cost: float
    instead: float | None
    make_safe: float | None


def as_found(ready: float, work_p80: float, known: Repairing) -> float:
    """What a buyer would give for it unrepaired: less the work at its dear end, and something for the unknown."""
    return max(0.0, ready - work_p80 - known.unknown * ready)


def repair_or_replace(
    work: float,
    ready: float,
    as_it_is: float,
    known: Repairing,
    same_standard: float | None = None,
    trade_in: float = 0.0,
    make_safe: float | None = None,
) -> RepairOrReplace:
    """Advice from the mean cost of the work, the value ready and as it is, and a shop's price for its equal."""
    instead = None if same_standard is None else same_standard - trade_in
    gain = ready - as_it_is
    advice = _advice(work, work / ready if ready > 0 else float("inf"), gain, instead, known)
    return RepairOrReplace(advice, gain, work - gain, instead, make_safe)


def _advice(work: float, share: float, gain: float, instead: float | None, known: Repairing) -> Advice:
    """`share`: the work as a share of the ready value."""
    if instead is not None and work < instead:
        return Advice.CHEAPER_THAN_ITS_EQUAL
    if share > known.large_part:
        return Advice.COSTS_MORE_THAN_IT_ADDS if work > gain else Advice.TAKES_MOST_OF_THE_VALUE
    if instead is not None:
        return Advice.ITS_EQUAL_IS_NO_DEARER
    return Advice.SMALL_PART_OF_THE_VALUE if share < known.small_part else Advice.LOOK_AT_ITS_EQUAL
