"""How much of each domain an outcome takes: its bite.

A domain starts whole, and every fault takes its share of what is left. The share follows from how weighty the check is
and how strong its evidence: `MOST` where both are as large as they can be and nothing is left of the worth. It grows
with the lost worth in step for the making, and faster than in step elsewhere, so that honest wear hardly bites. Where
one fault spoils the whole, the rubric writes the bite of the outcome; it holds in full for a domain that the check is
strongest evidence of, and by its strength for the others. What stays lost after a good repair takes at least that share
of the resale, and a large loss a part of it from the soundness.

Worth, class, lasting loss and bite all fall one way, so a worse outcome never takes less.

All arrays are check by outcome by domain; a check with fewer outcomes than the most has nothing in the rest of its row.
"""

from collections.abc import Sequence
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from ...rubric.written.kinds import Domain
from ..believing.terms import Term

Floats = NDArray[np.float64]
Bools = NDArray[np.bool_]
# Tried on instruments judged beforehand: a third is too soft (junk keeps 20 points), two thirds sinks honest wear.
MOST = 0.52
FULL_WEIGHT, FULL_STRENGTH = 5.0, 3.0
# Exponent of the lost worth. Judged on the same instruments: with 1 everywhere twenty worn but sound things cost half.
WEAR = 1.35
IN_STEP: frozenset[Domain] = frozenset({"workmanship"})
# What a lasting loss leaves out of account in the soundness: a neat repair that costs a tenth of the value holds.
HOLDS = 0.1
# No single fault takes all: the geometric mean of the domains would be nought whatever else there is.
LEAST_LEFT = 0.02


class Bites:
    """What the outcomes of these checks take of these domains."""

    def __init__(self, terms: Sequence[Term], domains: Sequence[Domain]) -> None:
        self.terms, self.domains = terms, domains
        self.most = max((len(term.outcomes) for term in terms), default=1)
        counted = np.array([term.in_score for term in terms])
        strength = np.array([[term.evidence_of.get(one, 0.0) for one in domains] for term in terms])
        strength = strength.reshape(len(terms), len(domains))
        self.rate: Floats = MOST / (FULL_WEIGHT * FULL_STRENGTH) * counted[:, None] * strength
        self.in_step = np.array([one in IN_STEP for one in domains], dtype=bool)
        written = self.table([[bite or 0.0 for bite in term.bites] for term in terms])
        self.written: Floats = 1.0 - (1.0 - written[:, :, None]) ** (strength[:, None, :] / FULL_STRENGTH)
        lasting = self.table([term.lasting for term in terms])
        self.lasting: Floats = np.zeros((len(terms), self.most, len(domains)))
        for d, domain in enumerate(domains):
            if domain == "resale":
                self.lasting[:, :, d] = lasting
            elif domain == "soundness":
                self.lasting[:, :, d] = np.maximum(lasting - HOLDS, 0.0)
        # A check that weighs nothing takes nothing.
        self.written[counted <= 0] = self.lasting[counted <= 0] = 0.0
        self.worth = self.table([term.worth for term in terms], 1.0)
        # What is sound takes nothing, even where another sound outcome is better.
        self.faulty = self.table([[float(one != "sound") for one in term.classes] for term in terms]).astype(bool)

    def table(self, rows: Sequence[Sequence[float]], rest: float = 0.0) -> Floats:
        """Figures of the outcomes, a row a check, filled up with `rest`."""
        found = np.full((len(rows), self.most), rest)
        for i, row in enumerate(rows):
            found[i, : len(row)] = row
        return found

    def lost(self, worth: Floats) -> Floats:
        """Lost worth, 0..1, as it counts in each domain (one more axis than `worth`)."""
        gone = np.clip(1.0 - worth, 0.0, 1.0)[..., None]
        found: Floats = np.where(self.in_step, gone, gone**WEAR)
        return found

    def taken(self, worth: Floats, mended: Bools | None = None) -> Floats:
        """-log of what outcomes of these worths leave of each domain. `mended`: work has been done on the outcome, so
        that what is written for the open fault no longer holds.
        """
        written = self.written if mended is None else np.where(mended[:, :, None], 0.0, self.written)
        share = np.maximum(np.maximum(self.rate[:, None, :] * self.lost(worth), written), self.lasting)
        share = np.where(self.faulty[:, :, None], share, 0.0)
        found: Floats = -np.log(np.maximum(1.0 - share, LEAST_LEFT))
        return found

    def read(self, i: int, d: int, worth: Floats) -> Floats:
        """The same of check i and domain d alone, for a reading of which the worth changes along it."""
        gone = np.clip(1.0 - worth, 0.0, 1.0)
        share = self.rate[i, d] * (gone if self.in_step[d] else gone**WEAR)
        found: Floats = -np.log(np.maximum(1.0 - share, LEAST_LEFT))
        return found

    @cached_property
    def domains_of(self) -> tuple[tuple[int, ...], ...]:
        """Of each check the places of the domains from which it may take."""
        may = (self.rate > 0) | (self.lasting > 0).any(axis=1)
        return tuple(tuple(d for d, takes in enumerate(row) if takes) for row in may.tolist())
