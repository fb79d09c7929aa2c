"""Candidates side by side, from their results, and who of them comes first: one that ought to be left is no first.

Coded, with the places of those that it is about; the words are made in `wording.choosing`.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum

from ..basis.problem import Problem
from ..rubric.shop import Shop
from .candidates import Candidate, Comparison, Look, compare, wrong_candidates
from .entrants import Entrant, candidate_of, names_of

SETTLED = 0.95  # of the draws: from here nothing is likely to change who is first
CLOSE = 0.2  # of the draws, between first and second
WORTH_A_LOOK = 0.1  # chance that a look turns the order, from which the order counts as not settled


@dataclass(frozen=True, slots=True)
class SideBySide:
    """What was compared and what came of it. `look`: the look at one part of the first two that is likeliest, by the
    minute, to change which of them is ahead.
    """

    entrants: tuple[Entrant, ...]
    candidates: tuple[Candidate, ...]
    found: Comparison

    @property
    def look(self) -> Look | None:
        return self.found.looks[0] if self.found.looks else None

    @property
    def unsettled(self) -> bool:
        """Whether a look may well turn the order."""
        return self.look is not None and round(self.look.chance, 4) >= WORTH_A_LOOK


def side_by_side(
    entrants: Sequence[Entrant], shop: Shop, seed: int = 1, *, count_set_up_more: bool = True
) -> SideBySide | tuple[Problem, ...]:
    """Two to six named evaluations side by side, or what keeps them apart."""
    candidates = tuple(candidate_of(name, one) for name, one in zip(names_of(entrants), entrants, strict=True))
    wrong = wrong_candidates(candidates)
    if wrong:
        return wrong
    found = compare(candidates, shop.money_with_luthier_counts if count_set_up_more else 1.0, seed)
    return SideBySide(tuple(entrants), candidates, found)


class Ahead(StrEnum):
    """How the first stands to the others."""

    NONE = "none"  # none of them is worth its price
    TO_BE_LEFT = "to_be_left"  # the first is to be left at its price; `other` is the first of the rest
    CLOSE = "close"  # between the first and `other`
    OFTENER = "oftener"  # first in `share` of the cases
    ALWAYS = "always"  # whatever counts most


@dataclass(frozen=True, slots=True)
class First:
    """`first` and `other` are places among those given; `share` of the draws in which the first is first."""

    ahead: Ahead
    first: int
    other: int | None
    share: float


def first_of(compared: SideBySide) -> First:
    """Who comes first."""
    order, shares = compared.found.order, compared.found.first_shares
    sound = [place for place in order if not _left(compared, place)]
    first = order[0]
    if not sound:
        return First(Ahead.NONE, first, None, shares[first])
    if first != sound[0]:
        return First(Ahead.TO_BE_LEFT, first, sound[0], shares[first])
    if len(sound) > 1 and _apart(shares[first], shares[sound[1]]) < CLOSE:
        return First(Ahead.CLOSE, first, sound[1], shares[first])
    return First(Ahead.OFTENER if round(shares[first], 4) < SETTLED else Ahead.ALWAYS, first, None, shares[first])


def left_before(compared: SideBySide) -> tuple[int, ...]:
    """Places of those that ought to be left and yet stand before one that need not be."""
    order = compared.found.order
    left = [_left(compared, place) for place in order]
    return tuple(place for at, place in enumerate(order) if left[at] and not all(left[at:]))


def _left(compared: SideBySide, place: int) -> bool:
    return compared.entrants[place].result.verdict.advice == "walk_away"


def _apart(one: float, other: float) -> float:
    """By how much two shares differ as they are told."""
    return round(one, 4) - round(other, 4)
