"""Repair or replace, for an owner. Common practice, from memory; the make-safe work is always offered alone beside
it.
"""

from dataclasses import dataclass
from typing import Literal

Word = Literal["repair", "discuss", "against"]
CHEAP = 0.35  # of the ready value: below it repair is hardly ever regretted
DEAR = 0.60  # above it only for love, and said out loud
UNKNOWN = 0.10  # of the ready value: what a buyer takes off an unrepaired one for what nobody can know (5 to 15 %)


@dataclass(frozen=True, slots=True)
class RepairOrReplace:
    """`gain`: what the repair adds to its value; `net_cost`: what it costs after that; `instead`: buying its equal."""

    word: Word
    sentence: str
    gain: float
    net_cost: float
    instead: float | None
    make_safe: float | None


def as_found(ready: float, work_p80: float) -> float:
    """What a buyer would give for it unrepaired: less the work at its dear end, and something for the unknown."""
    return max(0.0, ready - work_p80 - UNKNOWN * ready)


def repair_or_replace(
    work: float,
    ready: float,
    as_it_is: float,
    same_standard: float | None = None,
    trade_in: float = 0.0,
    make_safe: float | None = None,
) -> RepairOrReplace:
    """Advice from the mean cost of the work, the value ready and as it is, and a shop's price for its equal."""
    instead = None if same_standard is None else same_standard - trade_in
    gain = ready - as_it_is
    word, sentence = _advice(work, work / ready if ready > 0 else float("inf"), gain, instead)
    return RepairOrReplace(word, sentence, gain, work - gain, instead, make_safe)


def _advice(work: float, share: float, gain: float, instead: float | None) -> tuple[Word, str]:
    """`share`: the work as a share of the ready value. Each sentence gives the reason that holds here."""
    if instead is not None and work < instead:
        return "repair", "Have it repaired: that costs less than its equal would."
    if share > DEAR and work > gain:
        return "against", "The repair costs more than it is worth in money; do it only because you love it."
    if share > DEAR:
        return "against", "The repair takes most of what it will be worth; do it only because you love it."
    if instead is not None:
        return "discuss", "Its equal costs no more than the repair; have it repaired if this one is dear to you."
    if share < CHEAP:
        return "repair", "Have it repaired: the work is a small part of what it will be worth."
    return "discuss", "Repair is possible, but look at its equal in a shop first."
