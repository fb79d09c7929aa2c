"""How well our looks foretold what was found: chances of faults that nobody had looked for, against a later look.

A pair is a check of a finished evaluation that nobody had looked at, and the same check seen when the instrument was
looked at again. Brier score: the mean of (chance - outcome) squared, 0 at best; beside it that of always naming the
usual share (Brier, Verification of forecasts expressed in terms of probability, Monthly Weather Review 78, 1950; from
memory).
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from ..result.model.result import Result
from ..result.model.score import Check
from .tables import Bar, Shape, YearTable

FAULT_BELOW = 0.5  # an outcome that counts less than half is a fault
SURE = 0.9  # a later look that leaves more doubt tells nothing
BINS = 10


@dataclass(frozen=True, slots=True)
class Pair:
    """The chance of a fault as it was told, and whether it was there."""

    chance: float
    found: bool


@dataclass(frozen=True, slots=True)
class Bin:
    """Chances of one tenth: how many, their mean, and the share in which the fault was there."""

    count: int
    chance: float
    share: float


def pairs_of(before: Result, after: Result) -> tuple[Pair, ...]:
    """The checks that nobody had looked at before, and that were seen after."""
    later = {one.check: one for one in after.checks if one.seen}
    found = []
    for one in before.checks:
        seen = later.get(one.check)
        if one.seen or seen is None:
            continue
        chance, there = fault_chance(one), fault_chance(seen)
        if chance is None or there is None or 1 - SURE < there < SURE:
            continue
        found.append(Pair(chance, there >= SURE))
    return tuple(found)


def fault_chance(check: Check) -> float | None:
    """The chance that a check is at fault; None where it was not kept what its outcomes count."""
    if not check.belief or any(one.counts is None for one in check.belief):
        return None
    return sum(one.probability for one in check.belief if (one.counts or 0.0) < FAULT_BELOW)


def brier(pairs: Sequence[Pair]) -> float:
    """The mean of squared misses, 0 to 1; raises ZeroDivisionError without any."""
    return sum((one.chance - one.found) ** 2 for one in pairs) / len(pairs)


def usual_brier(pairs: Sequence[Pair]) -> float:
    """The same for whoever always names the share of all."""
    share = sum(one.found for one in pairs) / len(pairs)
    return share * (1.0 - share)


def binned(pairs: Iterable[Pair]) -> tuple[Bin, ...]:
    """The tenths that hold any, from the lowest chance on."""
    tenths: dict[int, list[Pair]] = {}
    for one in pairs:
        tenths.setdefault(min(BINS - 1, int(one.chance * BINS)), []).append(one)
    return tuple(
        Bin(len(held), sum(one.chance for one in held) / len(held), sum(one.found for one in held) / len(held))
        for _, held in sorted(tenths.items())
    )


def foretold(pairs: Sequence[Pair]) -> YearTable:
    """The table behind the calibration plot, with both scores in its sentence."""
    bins = binned(pairs)
    rows = tuple((f"{one.chance:.0%}", str(one.count), f"{one.share:.0%}") for one in bins)
    bars = tuple(Bar(str(one.count), one.chance, f"{one.count}", one.share) for one in bins)
    if not pairs:
        say = "Nothing was looked at again yet: finish an evaluation, look again at the bench, and finish that too."
    else:
        say = f"{len(pairs)} faults were foretold before anybody looked: Brier score {brier(pairs):.3f}, and "
        say += f"{usual_brier(pairs):.3f} for whoever always names the usual share. Lower is better."
    columns = ("Foretold", "How often", "Was there")
    shape: Shape = "calibration" if pairs else "none"
    return YearTable("foretold", "How well our looks foretold", say, columns, rows, shape, bars, "chance")
