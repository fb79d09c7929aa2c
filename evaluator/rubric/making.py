"""Classes of making as a rubric writes them, and what each answer says of them.

Five classes stand in a row, the cheapest first: sold as an outfit, factory, workshop, fine workshop, maker's own.
A sign is a check whose outcomes are found in other shares in each class. Its shares are written, or follow from worth:
P(outcome | class) proportional to exp(care * worth), `care` rising with the class.

Written shares are judged at the bench and need not agree to the last digit with the worths. Where they would let a
worse outcome speak better of the making, they are made to agree: of two neighbouring classes the logarithm of the ratio
of shares must not fall as the worth rises, which the pool-adjacent-violators rule gives with the least change (isotonic
regression; Barlow and others, Statistical Inference under Order Restrictions, 1972). Then a worse answer never speaks
for a better class, whatever else was seen: monotone likelihood ratios stay so through Bayes' rule.
"""

import math
from collections.abc import Mapping, Sequence
from typing import Annotated, NamedTuple

from pydantic import Field

from ..basis.frozen import dataclass
from .written.checks import Check
from .written.kinds import WORTH_BY_CLASS, Domain, Family, Id, Number, OutcomeClass, Positive, Share, Text, Written

Score = Annotated[float, Field(strict=True, ge=1, le=100, allow_inf_nan=False)]
# No class is ruled out by one answer (Cromwell's rule), and a share written as nothing is only very small.
LEAST_SHARE = 1e-4
SOUND = (2.0, 0, 0.0)  # above every worth
_WORSE: tuple[OutcomeClass, ...] = ("sound", "acceptable", "fault", "disqualifying")


class MakingClass(Written):
    """One class of making. `usual` is what a domain of it usually scores, 1..100, while nothing of it was seen."""

    making: Id
    say: Text
    means: Text
    shows: tuple[Text, ...] = ()
    prior: dict[Family, Share]
    old: Positive = 1.0
    care: Number
    usual: dict[Domain, Score]
    sources: tuple[Text, ...] = ()


class MakingSign(Written):
    """What a check tells of the making. `shares`: for each outcome its share in each class, the cheapest class first.

    `counts`: how much it tells, 1 in full; `counts_old` of work that is over 40 years old.
    """

    shares: dict[Id, tuple[Share, ...]] = {}
    counts: Share = 1.0
    counts_old: Share | None = None
    sources: tuple[Text, ...] = ()


class SignGroup(Written):
    """Signs, by check, that the same hand leaves together, so that five tell hardly more than two."""

    group: Id
    say: Text
    families: tuple[Family, ...] = ()
    signs: dict[Id, MakingSign]


class Band(Written):
    """A band of the score in words, from `at_least` of 100 on; `when_safe`: only of what may be played as it stands."""

    band: Id
    say: Text
    at_least: Annotated[float, Field(strict=True, ge=0, le=100, allow_inf_nan=False)]
    when_safe: bool = False


@dataclass(frozen=True, slots=True)
class SignTable:
    """A sign ready for sums. `logs[outcome][grade]`: log of the share of the outcome among instruments of a grade;
    `shares` the same without the logarithm.

    `by_worth`: no shares are written; then care[grade] * w - norm[grade] gives it for a worth w between the outcomes.
    `counts`, `counts_old`: the power to which it is taken, of new and of old work.
    """

    check: str
    group: str
    logs: Mapping[str, tuple[float, ...]]
    care: tuple[float, ...]
    norm: tuple[float, ...]
    by_worth: bool
    shares: tuple[tuple[float, ...], ...]
    counts: float
    counts_old: float


def sign_tables(
    classes: Sequence[MakingClass], groups: Sequence[SignGroup], checks: Mapping[str, Check]
) -> dict[str, SignTable]:
    """The table of every sign whose check is there, by check; one with the wrong number of shares is left out."""
    found: dict[str, SignTable] = {}
    if not classes:
        return found
    for group in groups:
        for name, sign in group.signs.items():
            check = checks.get(name)
            if check is not None and check.outcomes and all(len(row) == len(classes) for row in sign.shares.values()):
                found[name] = sign_table(classes, group.group, sign, check)
    return found


def sign_table(classes: Sequence[MakingClass], group: str, sign: MakingSign, check: Check) -> SignTable:
    """The table of one sign; the worths that order its outcomes are the general ones, whatever the tier."""
    worth = {name: general_worth(check, name) for name in check.outcomes}
    care = tuple(one.care for one in classes)
    norm = tuple(_log_sum([one * w for w in worth.values()]) for one in care)
    if sign.shares:
        floor = [LEAST_SHARE] * len(classes)
        rows = [list(sign.shares.get(name, floor)) for name in worth]
        order = ranks(check, list(worth.values()), [one.class_ for one in check.outcomes.values()])
        logs = agreed([[math.log(max(share, LEAST_SHARE)) for share in row] for row in rows], order)
    else:
        logs = [[c * w - n for c, n in zip(care, norm, strict=True)] for w in worth.values()]
    counts_old = sign.counts if sign.counts_old is None else sign.counts_old
    table = {name: tuple(row) for name, row in zip(worth, logs, strict=True)}
    shares = tuple(tuple(math.exp(log) for log in row) for row in logs)
    return SignTable(check.check, group, table, care, norm, not sign.shares, shares, sign.counts, counts_old)


def general_worth(check: Check, outcome: str) -> float:
    """Worth of an outcome free of tier and style, 0..1; what is sound is worth 1, so that it never speaks against."""
    written = check.outcomes[outcome]
    if written.class_ == "sound":
        return 1.0
    return WORTH_BY_CLASS[written.class_] if written.worth is None else written.worth


class Rank(NamedTuple):
    """How good an outcome is beside the others of its check, 0 the worst. `alike`: several have this rank and are cured
    alike, so that none of them is worse; else those of one rank must say the same."""

    rank: int
    alike: bool


def ranks(check: Check, worth: Sequence[float], classes: Sequence[OutcomeClass]) -> list[Rank]:
    """The rank of each outcome: by worth, then class, then what stays lost; all that is sound is one rank, which says
    one thing, so that no sound answer ever speaks against."""
    outcomes = list(check.outcomes.values())
    keys = [
        SOUND
        if class_ == "sound"
        else (one_worth, -_WORSE.index(class_), -(one.lasting_loss.likely if one.lasting_loss else 0.0))
        for one, one_worth, class_ in zip(outcomes, worth, classes, strict=True)
    ]
    order = sorted(set(keys))
    cures: dict[tuple[float, ...], set[tuple[str, ...]]] = {key: set() for key in order}
    for key, one in zip(keys, outcomes, strict=True):
        cures[key].add(one.cured_by)
    return [Rank(order.index(key), key != SOUND and len(cures[key]) == 1) for key in keys]


def agreed(logs: Sequence[Sequence[float]], order: Sequence[Rank]) -> list[list[float]]:
    """Log shares (a row an outcome, a column a class, the cheapest first) made to agree with the ranks; sums stay 1.

    From each class to the next the change of the log share becomes the nearest that does not fall as outcomes get
    better. Weights: how often an outcome is found in the two classes.
    """
    found = [[row[0]] for row in logs]
    for at in range(len(logs[0]) - 1):
        steps = [row[at + 1] - row[at] for row in logs]
        weight = [math.exp(row[at]) + math.exp(row[at + 1]) for row in logs]
        for row, step in zip(found, rising(steps, weight, order), strict=True):
            row.append(row[-1] + step)
    for at in range(len(found[0])):
        total = _log_sum([row[at] for row in found])
        for row in found:
            row[at] -= total
    return found


def rising(values: Sequence[float], weights: Sequence[float], order: Sequence[Rank]) -> list[float]:
    """The nearest values, by weighted squares, that do not fall as the rank rises."""
    at = sorted(range(len(values)), key=lambda i: (order[i].rank, values[i]))
    levels = [float(order[i].rank) if not order[i].alike else order[i].rank + place / len(at) / 2
              for place, i in enumerate(at)]  # fmt: skip
    made = not_falling([values[i] for i in at], [weights[i] for i in at], levels)
    found = dict(zip(at, made, strict=True))
    return [found[i] for i in range(len(values))]


def not_falling(values: Sequence[float], weights: Sequence[float], levels: Sequence[float]) -> list[float]:
    """The nearest values, by weighted squares, that do not fall; those of one level become one.

    Pool adjacent violators: neighbours in the wrong order are replaced by their weighted mean until none is left.
    `levels` must not fall.
    """
    blocks: list[tuple[float, float, int]] = []  # mean, weight, how many
    for i, (value, weight) in enumerate(zip(values, weights, strict=True)):
        if i and levels[i] == levels[i - 1]:
            blocks.append(_pooled(blocks.pop(), (value, weight, 1)))
        else:
            blocks.append((value, weight, 1))
    # Levels are pooled first; now the blocks in the wrong order.
    kept: list[tuple[float, float, int]] = []
    for block in blocks:
        kept.append(block)
        while len(kept) > 1 and kept[-2][0] > kept[-1][0]:
            last = kept.pop()
            kept.append(_pooled(kept.pop(), last))
    return [mean for mean, _, count in kept for _ in range(count)]


def _pooled(one: tuple[float, float, int], other: tuple[float, float, int]) -> tuple[float, float, int]:
    weight = one[1] + other[1]
    return (one[0] * one[1] + other[0] * other[1]) / weight, weight, one[2] + other[2]


def _log_sum(logs: Sequence[float]) -> float:
    top = max(logs)
    return top + math.log(math.fsum(math.exp(one - top) for one in logs))
