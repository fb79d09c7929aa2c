"""What class of making an instrument is of, by Bayes' rule over groups of signs.

Each group of signs (materials, hand, structure) has a hidden grade of its own near the class: P(grade | class) falls by
`NEAR` with each step between them. Given the grade the signs of a group are independent, and each is taken to the power
of how reliably it was seen. So

    P(class | seen) ~ prior(class) * product over groups of
        the sum over grades of P(grade | class) * product over signs of P(sign | grade)^r

which with five classes and as many grades is a small closed sum. Signs of one group share its grade, so five cheap ones
tell hardly more than two, and a second group tells much. A power, and not a mixture with chance, because a mixture
would take a bad answer for a misseen one where bad answers are common, and a worse answer could then speak for a better
class. The kernel and the tables of signs are totally positive of order two, so that a worse answer moves the classes
down, whatever else was seen (Karlin, Total Positivity, 1968, basic composition formula).

It knows no tier, no asking price and nothing of what the player needs.
"""

import math
from collections.abc import Mapping, Sequence
from functools import cache

from ...basis.frozen import dataclass
from ...rubric.making import MakingClass, SignTable
from ...rubric.written.kinds import Age, Family
from ..model import NO_MAKING, Making, Sign
from .evidence import Evidence
from .evidence import Sign as Seen

# Share of a grade falls to this for each step away from the class: neighbours 3 in 10. Judged, no source.
NEAR = 0.3
# No class is ruled out before a look (Cromwell's rule).
LEAST_PRIOR = 1e-4
LEAST_ODDS = 1e-12


Row = tuple[float, ...]
OLD: frozenset[Age | None] = frozenset({"40_to_100", "over_100"})


@dataclass(frozen=True, slots=True)
class Told:
    """One sign as it was seen: `logs` of its share at each grade, already to the power of its reliability."""

    check: str
    outcome: str
    group: str
    logs: Row


@dataclass(frozen=True, slots=True)
class Hand:
    """The making after all signs, for sums and draws.

    `grades[group][class]`: chances of the group's grade in that class, its own signs counted.
    """

    prior: Row
    shares: Row
    grades: Mapping[str, tuple[Row, ...]]


def shares_before(classes: Sequence[MakingClass], family: Family, *, old: bool) -> Row:
    """Shares of the classes before any look, summing to 1."""
    raw = [one.prior.get(family, 0.0) * (one.old if old else 1.0) for one in classes]
    floored = [max(share, LEAST_PRIOR) for share in raw]
    total = math.fsum(floored)
    return tuple(share / total for share in floored)


def told(table: SignTable, evidence: Evidence, *, old: bool) -> Told | None:
    """What was seen of a sign; None where nothing was. Several looks count together as one that misses less."""
    if not evidence.signs:
        return None
    names, weight = tuple(table.logs), math.fsum(sign.reliability for sign in evidence.signs)
    outcomes = [
        math.fsum(sign.reliability * sign.outcomes[i] / math.fsum(sign.outcomes) for sign in evidence.signs) / weight
        for i in range(len(names))
    ]
    reliability = 1.0 - math.prod(1.0 - sign.reliability for sign in evidence.signs)
    worth = None if evidence.moments is None else math.fsum(part.first for part in evidence.moments)
    power = reliability * (table.counts_old if old else table.counts)
    if worth is not None and table.by_worth:
        logs = tuple(power * (care * worth - norm) for care, norm in zip(table.care, table.norm, strict=True))
    else:
        rows = [(sign.reliability / weight, _row(table, sign)) for sign in evidence.signs]
        logs = tuple(power * math.fsum(share * row[g] for share, row in rows) for g in range(len(table.care)))
    likeliest = max(range(len(names)), key=list(outcomes).__getitem__)
    return Told(table.check, names[likeliest], table.group, logs)


def _row(table: SignTable, sign: Seen) -> Row:
    """Log of the share of what one look saw, at each grade; those that look alike share it."""
    rows = [(seen, row) for seen, row in zip(sign.outcomes, table.logs.values(), strict=True) if seen > 0]
    if sign.among:
        return tuple(math.log(math.fsum(math.exp(row[g]) for _, row in rows)) for g in range(len(table.care)))
    return tuple(math.fsum(seen * row[g] for seen, row in rows) for g in range(len(table.care)))


def hand_of(prior: Row, groups: Sequence[str], seen: Sequence[Told]) -> Hand:
    """Bayes' rule over the groups; `groups` are those that this family has, seen or not. No classes, no shares."""
    if not prior:
        return Hand((), (), {})
    kernel = kernel_of(len(prior))
    logs = [math.log(share) for share in prior]
    grades: dict[str, tuple[Row, ...]] = {}
    for group in groups:
        likelihood = _summed([one.logs for one in seen if one.group == group], len(prior))
        rows, told_by = _grades(kernel, likelihood)
        grades[group] = rows
        logs = [log + one for log, one in zip(logs, told_by, strict=True)]
    return Hand(prior, _normal(logs), grades)


def making_of(names: Sequence[str], hand: Hand, seen: Sequence[Told]) -> Making:
    """The record: shares by class, and for each sign how far it alone would move the odds of the likeliest class.

    Alone, and not as what is lost without it: of five signs that say the same each could be left out, and all tell.
    """
    if not names:
        return NO_MAKING
    shares = dict(zip(names, hand.shares, strict=True))
    best = max(range(len(names)), key=hand.shares.__getitem__)
    before = _log_odds(hand.prior, best)
    signs = []
    for one in seen:
        alone = hand_of(hand.prior, (one.group,), (one,))
        signs.append(Sign(one.check, one.outcome, one.group, _log_odds(alone.shares, best) - before))
    signs.sort(key=lambda sign: -abs(sign.weight))
    telling = {one.group for one in seen if max(one.logs) - min(one.logs) > 0}
    return Making(shares, tuple(signs), len(telling))


def outcome_shares(table: SignTable, hand: Hand) -> Row:
    """Probabilities of a sign's outcomes, in their order, from the classes and its group's grades; they sum to 1."""
    rows = hand.grades[table.group]
    at_grade = [sum(p * row[g] for p, row in zip(hand.shares, rows, strict=True)) for g in range(len(rows))]
    found = [sum(p * share for p, share in zip(at_grade, row, strict=True)) for row in table.shares]
    total = sum(found)
    return tuple(share / total for share in found)


@cache
def kernel_of(count: int) -> tuple[Row, ...]:
    """P(grade | class): a row for each class, falling by NEAR with each step away from it."""
    rows = [[NEAR ** abs(grade - one) for grade in range(count)] for one in range(count)]
    return tuple(tuple(share / sum(row) for share in row) for row in rows)


def _summed(rows: Sequence[Row], count: int) -> Row:
    return tuple(math.fsum(row[g] for row in rows) for g in range(count))


def _grades(kernel: Sequence[Row], logs: Row) -> tuple[tuple[Row, ...], Row]:
    """For each class the chances of the grade after the group's signs, and the log likelihood of those signs."""
    top = max(logs)
    like = [math.exp(one - top) for one in logs]
    rows, told_by = [], []
    for row in kernel:
        joint = [share * one for share, one in zip(row, like, strict=True)]
        total = math.fsum(joint)
        rows.append(tuple(one / total for one in joint))
        told_by.append(top + math.log(total))
    return tuple(rows), tuple(told_by)


def _normal(logs: Sequence[float]) -> Row:
    top = max(logs)
    raw = [math.exp(one - top) for one in logs]
    total = math.fsum(raw)
    return tuple(one / total for one in raw)


def _log_odds(shares: Row, best: int) -> float:
    rest = math.fsum(share for i, share in enumerate(shares) if i != best)
    return math.log(max(shares[best], LEAST_ODDS)) - math.log(max(rest, LEAST_ODDS))
