"""What each check takes in each world, domain by domain, for the draws.

Where a check is as shown it takes what its outcome takes. Where it is not, or was not seen, it takes by the worth of
the outcome that was drawn, so measured that on the mean it takes what is usual there: a rare bad outcome then takes
much, and the worlds agree with the closed form.
"""

from collections.abc import Mapping, Sequence
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from ...rubric.making import SignTable
from ..believing.beliefs import Held
from ..believing.making import Hand
from .score import TINY, Losses, Setting

Floats = NDArray[np.float64]
Outcomes = NDArray[np.int16]
# No outcome that was only drawn takes more than this of a domain.
MOST_TAKEN = 0.9


class Drawn(NamedTuple):
    """One check in every world: the index of its outcome, and whether it is as shown (None: everywhere, or nowhere, if
    it was not seen); whether work is done on any outcome; its worth as it stands and after the work (None where the
    worth does not change along a reading)."""

    outcome: Outcomes
    shown: NDArray[np.bool_] | None
    mended: bool
    worth: Floats | None
    after: Floats | None


class Biting:
    """Logarithms of what outcomes leave, in one state of the instrument: as it stands, or after work."""

    def __init__(self, setting: Setting, losses: Losses, drawn: int, chances: Floats, *, after: bool) -> None:
        """`chances[i, c]`: of the outcomes of check i in class c, where it is not shown; `drawn` checks are drawn."""
        self.setting, self.losses, self.drawn, self.after = setting, losses, drawn, after
        gone = np.clip(1.0 - losses.worth[:drawn], 0.0, 1.0)
        target = np.exp(-losses.usual[:drawn])  # check x class x domain
        mean = np.einsum("ick,ik->ic", chances, gone)[:, :, None]
        highest = MOST_TAKEN / np.maximum(gone.max(axis=1, initial=0.0), TINY)[:, None, None]
        share = np.minimum((1.0 - target) / np.maximum(mean, TINY), highest)
        even = target / (1.0 - share * mean)
        unshown = np.log(even[:, :, None, :] * (1.0 - share[:, :, None, :] * gone[:, None, :, None]))
        # A row a state: the outcomes as shown, then for each class the outcomes as drawn.
        shape = (drawn, unshown.shape[1] * unshown.shape[2], unshown.shape[3])
        rows = np.concatenate((-losses.taken[:drawn], unshown.reshape(shape)), axis=1)
        self.table: Floats = np.ascontiguousarray(rows.transpose(0, 2, 1))

    def apart(self) -> Floats:
        """Logarithms by domain and class of all checks that are not drawn: answered ones that another answer sets
        aside, and those that wait for one."""
        known, usual = len(self.setting.held), np.exp(-self.losses.usual[self.drawn :])
        shown = (self.setting.mass[:, :, None] * np.exp(-self.losses.taken)).sum(axis=1)[self.drawn :]
        kept = known - self.drawn
        usual[:kept] = shown[:, None, :] + self.setting.rest[self.drawn :, None, None] * usual[:kept]
        found: Floats = np.log(usual).sum(axis=0).T
        return found

    def logs(self, i: int, d: int, one: Drawn, state: NDArray[np.intp]) -> Floats:
        """What check i leaves of domain d in every world, as a logarithm; `state` is that of `states`."""
        found: Floats = self.table[i, d].take(state, mode="clip")  # without the check of bounds, which costs as much
        worth = one.after if self.after else one.worth
        if worth is not None:
            bites = self.setting.bites
            read = -bites.read(i, d, worth) * bites.faulty[i].take(one.outcome)
            return read if one.shown is None else np.where(one.shown, read, found)
        return found


def is_read(held: Held) -> bool:
    """Whether the check was read on a scale along which its worth changes."""
    return bool(held.term.points) and held.evidence.value is not None and len(held.evidence.signs) == 1


def states(held: Held, one: Drawn, most: int, classes: NDArray[np.intp]) -> NDArray[np.intp]:
    """The row of the table in every world; `classes` are the first rows of each world's class."""
    if one.shown is None:
        return one.outcome.astype(np.intp) if held.rest < 1.0 else classes + one.outcome
    return np.where(one.shown, one.outcome, classes + one.outcome)


def chances_of(held: Sequence[Held], setting: Setting, hand: Hand, signs: Mapping[str, SignTable]) -> Floats:
    """Chances of the outcomes by check and class, where nothing shows them."""
    found: Floats = np.repeat(setting.chances[: len(held), None, :], len(setting.usual), axis=1)
    tables = {name: np.array(rows) for name, rows in hand.grades.items()}
    for i, one in enumerate(held):
        table = signs.get(one.term.check)
        if table is not None:
            chances = tables[table.group] @ np.array(table.shares).T
            found[i, :, : chances.shape[1]] = chances / chances.sum(axis=1, keepdims=True)
    return found
