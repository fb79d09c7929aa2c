"""The score: what the faults that were seen leave of each domain, and the weighted geometric mean of the domains.

A domain starts at 100 and every fault takes its share of what is left (`bites`). The part of it that nobody has seen
counts as what is usual for the class of making, by its share of the weight: usual^share. So a rubric that adds checks
sinks no unseen instrument, and dilutes no fault. A look of reliability r shows what it shows with the mass r; with the
rest the check is as good as unseen. Of a class c

    D(c) = 100 * product over checks of (sum over outcomes of shown * (1 - taken) + rest * usual(c)^share)

and the domain is the mean of D(c) over the classes. The score is the geometric mean of the domains by their shares, in
which nothing else buys off a broken one (the weighted product model: Bridgman, Dimensional Analysis, 1922;
Triantaphyllou, Multi-Criteria Decision Making Methods, 2000, 2.2.2). Its logarithm is a sum over findings and domains,
so each finding has its points. A sound answer takes nothing and leaves less unseen, so it never lowers a score; a
worse answer takes more and speaks for a cheaper class, in which less is usual, so it never raises one.
"""

import math
from collections.abc import Mapping, Sequence
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from ...basis.frozen import dataclass
from ...rubric.written.kinds import Domain
from ..believing.beliefs import Held, Left
from ..believing.evidence import MOST_SURE, Sign
from ..believing.terms import Term
from .bites import Bites
from .weights import FULL, Weights

Floats = NDArray[np.float64]
# Without classes in the rubric every domain is usually so, out of 1.
USUAL = 0.75
# How far what is believed of a cause may move what is usual for a check, down and up. Judged: what is only expected
# shall not count like what was seen.
LEAST_MOVED, MOST_MOVED = 0.4, 2.5
TINY = 1e-12


@dataclass(frozen=True)
class Setting:
    """What a score is reckoned with: `usual` by class and domain (0..1), `making` the shares of the classes.

    `held` are the checks of `weights`, in its order; `terms` are theirs, an answer that shows the matter of another
    check being no fault in them.
    """

    weights: Weights
    held: tuple[Held, ...]
    terms: tuple[Term, ...]
    making: Floats
    usual: Floats

    @cached_property
    def bites(self) -> Bites:
        return Bites(self.terms, self.weights.domains)

    @cached_property
    def mass(self) -> Floats:
        """What observations show, a row a held check: a mass for each outcome."""
        return self.bites.table([shown_by(one, one.evidence.signs) for one in self.held])

    @cached_property
    def pointed_at(self) -> tuple[int, ...]:
        """The held checks that answers to other checks speak of."""
        return tuple(i for i, one in enumerate(self.held) if any(sign.elsewhere for sign in one.evidence.signs))

    @cached_property
    def own_mass(self) -> Floats:
        """The mass of `pointed_at` by the answers to these checks themselves."""
        signs = [[sign for sign in self.held[i].evidence.signs if not sign.elsewhere] for i in self.pointed_at]
        return self.bites.table([shown_by(self.held[i], one) for i, one in zip(self.pointed_at, signs, strict=True)])

    @cached_property
    def rest(self) -> Floats:
        """The mass that is left to doubt, 1 for a check that was not seen."""
        found: Floats = np.maximum(1.0 - self.mass.sum(axis=1), 0.0)
        return found

    @cached_property
    def least_sure(self) -> Floats:
        """How surely each check was seen at the least, whatever had been there."""
        least = [max((min(sign.shows) for sign in one.evidence.signs), default=0.0) for one in self.held]
        found: Floats = np.minimum(np.array(least), 1.0 - self.rest)
        return found

    @cached_property
    def chances(self) -> Floats:
        """What is believed of each outcome where nothing shows it."""
        return self.bites.table([one.mixture for one in self.held])

    @cached_property
    def shown_worth(self) -> Floats:
        rows = [
            one.shown_worth if one.evidence.moments else term.worth
            for one, term in zip(self.held, self.terms, strict=True)
        ]
        return self.bites.table(rows, 1.0)

    @cached_property
    def moved(self) -> Floats:
        """How many times what is usual an unseen check takes, by what is believed of its cause."""
        gone = 1.0 - self.bites.worth
        caused = np.array([one.term.cause is not None for one in self.held], dtype=bool)
        before = self.bites.table([one.term.mixed(one.term.prior) for one in self.held])
        now, then = (self.chances * gone).sum(axis=1), (before * gone).sum(axis=1)
        times = np.clip(now / np.maximum(then, TINY), LEAST_MOVED, MOST_MOVED)
        return np.where(caused & (then > TINY), times, 1.0)


def shown_by(held: Held, signs: Sequence[Sign]) -> tuple[float, ...]:
    """The mass that these observations of a check put on each outcome, by themselves.

    Each says what it says with its reliability; together they miss what all of them miss, and of those that disagree
    the surer count for more. What one holds of it before any look is not in it: that is in what is usual.
    """
    if not signs:
        return (0.0,) * len(held.term.outcomes)
    shares = [sign.spread(held.mixture) for sign in signs]
    if len(signs) == 1:
        return tuple(signs[0].reliability * share for share in shares[0])
    sure = [min(sign.reliability, MOST_SURE) for sign in signs]
    odds = [share / (1.0 - share) for share in sure]
    seen = (1.0 - math.prod(1.0 - share for share in sure)) / math.fsum(odds)
    return tuple(
        seen * math.fsum(one * share[k] for one, share in zip(odds, shares, strict=True))
        for k in range(len(held.term.outcomes))
    )


@dataclass(frozen=True, slots=True)
class Losses:
    """What was taken, as -log of what is left.

    `taken[i, k]`, by domain: of the held check i where its outcome k is as shown. `usual[i, c]`, by domain: of any
    check, where it was not seen, in class c. `worth`: of each outcome, where it is not shown.
    """

    taken: Floats
    usual: Floats
    worth: Floats


@dataclass(frozen=True, slots=True)
class Scored:
    """One score, 0..100, its domains, and what each check and the unseen took.

    `seen[i, d]`, `unseen[d]`: -log of the share left of domain d; together they are that of the domain. `points[i, d]`
    add up to what is missing from 100; the last row is what is unseen.
    """

    expected: float
    domains: tuple[float, ...]
    seen: Floats
    unseen: Floats
    points: Floats
    losses: Losses


def usual_of(classes: Sequence[Mapping[Domain, float]], domains: Sequence[Domain]) -> Floats:
    """What is usual, 0..1, by class and domain; one class of its own where a rubric has none."""
    if not classes:
        return np.full((1, len(domains)), USUAL)
    return np.array([[one.get(domain, FULL * USUAL) / FULL for domain in domains] for one in classes])


def losses_of(setting: Setting, left: Sequence[Left] | None = None) -> Losses:
    """What each check takes; `left` as in `score_of`."""
    bites, shown_worth, worth, mended = setting.bites, setting.shown_worth, setting.bites.worth, None
    moved = setting.moved
    if left is not None:
        after = bites.table([[0.0 if one is None else one for one in row] for row in left])
        mended = bites.table([[one is not None for one in row] for row in left]).astype(bool)
        shown_worth, worth = np.maximum(shown_worth, after), np.maximum(worth, after)
        now, then = ((setting.chances * (1.0 - one)).sum(axis=1) for one in (worth, bites.worth))
        moved = moved * np.where(then > TINY, now / np.maximum(then, TINY), 1.0)
    taken = bites.taken(shown_worth, mended)
    before = taken if left is None else bites.taken(setting.shown_worth)
    share = setting.weights.by_domain.T.copy()
    share[: len(moved)] *= moved[:, None]
    usual = share[:, None, :] * -np.log(setting.usual)[None, :, :]
    return Losses(_counted_once(setting, taken, before), usual, worth)


def _counted_once(setting: Setting, taken: Floats, before: Floats) -> Floats:
    """The same less what another check counts already, where a check points to it. `before`: what is taken as it
    stands; a matter that is mended where it counts is mended for those that point to it."""
    place = {one.check: i for i, one in enumerate(setting.terms)}
    pointing = [
        (i, [place[name] for name in one.points_to if name in place])
        for i, one in enumerate(setting.terms)
        if one.points_to and setting.rest[i] < 1.0
    ]
    if not any(others for _, others in pointing):
        return taken
    # Each counted matter is taken off once, from the checks that point to it in turn.
    spare = -np.log(1.0 - (setting.mass[:, :, None] * (1.0 - np.exp(-before))).sum(axis=1))
    found, alone = taken.copy(), spare.copy()
    for i, others in pointing:
        for other in others:
            off = np.minimum(alone[i], spare[other])
            found[i] = np.maximum(found[i] - off, 0.0)
            alone[i] -= off
            spare[other] -= off
    return found


def score_of(setting: Setting, left: Sequence[Left] | None = None) -> Scored:
    """The score as it stands; with `left`, what the work leaves of each held check's outcomes, the score after it."""
    weights, count, known = setting.weights, len(setting.weights.domains), len(setting.held)
    losses = losses_of(setting, left)
    if not count:
        return Scored(FULL / 2, (), np.zeros((known, 0)), np.zeros(0), np.zeros((known + 1, 0)), losses)
    shown = (setting.mass[:, :, None] * np.exp(-losses.taken)).sum(axis=1)
    usual = np.exp(-losses.usual)  # check x class x domain
    rest = np.concatenate((setting.rest, np.ones(len(usual) - known)))
    left_of = rest[:, None, None] * usual
    left_of[:known] += shown[:, None, :]
    # An answer to another check that speaks of this one makes it surer; a fault that is surer shall not count for less.
    if at := list(setting.pointed_at):
        own = (setting.own_mass[:, :, None] * np.exp(-losses.taken[at])).sum(axis=1)
        alone = np.maximum(1.0 - setting.own_mass.sum(axis=1), 0.0)[:, None, None] * usual[at] + own[:, None, :]
        left_of[at] = np.minimum(left_of[at], alone)
    # A crack that is seen is surer than none seen; to be sure of a small one shall not be worth more than that.
    none_seen = setting.least_sure[:, None, None] * (1.0 - usual[:known]) + usual[:known]
    left_of[:known] = np.minimum(left_of[:known], none_seen)
    joint = setting.making[:, None] * np.exp(np.log(left_of).sum(axis=0))
    whole = np.minimum(joint.sum(axis=0), 1.0)
    # What a finding took is what is lost beside the same look with nothing found, at the classes as they now stand.
    doubt = setting.rest[:, None] * np.einsum("cd,icd->id", joint / joint.sum(axis=0), usual[:known])
    took = np.maximum(np.log((1.0 - setting.rest)[:, None] + doubt) - np.log(shown + doubt), 0.0)
    seen, unseen = _parted(took, -np.log(whole))
    parts = np.vstack((seen, unseen)) * weights.shares
    expected = FULL * float(np.exp(-parts.sum()))
    points = parts * ((FULL - expected) / parts.sum() if parts.sum() > 0 else 0.0)
    return Scored(expected, tuple((FULL * whole).tolist()), seen, unseen, points, losses)


def _parted(took: Floats, missing: Floats) -> tuple[Floats, Floats]:
    """What checks took and what the unseen took of what is missing in each domain, so that they add up to it."""
    together = took.sum(axis=0)
    share = np.minimum(1.0, missing / np.maximum(together, TINY))
    return took * share, np.maximum(missing - together * share, 0.0)
