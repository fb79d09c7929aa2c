"""What a good repair leaves of the value, by class of making: each matter once, the faults of one accident together.

A wing crack costs a maker's violin three hundredths and a factory one six; a post crack in the back leaves a factory
violin a third. Shares multiply, they do not add. Wear parts (strings, bridge, pegs, board, hair) are cost to cure and
never a share. What a paper or a name claims lowers only a value that rests on the claim, which a guide by class does
not; and what was made badly is in the class already: neither is counted here. Common practice, from memory.

A fault counts by how sure it is, where somebody saw it. What nobody looked at, and the doubt that a look which found
nothing leaves, is not in the value but in the chance that it is worth its price: else a sound answer would lower it.
"""

from collections.abc import Iterable, Mapping, Sequence
from math import exp, log, prod

from ...basis.frozen import dataclass

REST_OF_AN_ACCIDENT = 1 / 3  # of one accident the worst fault counts whole and the others by a third
LEAST_LEFT = 0.02  # even a wreck brings what its parts bring
LEAST_LOSS = 0.02  # below two hundredths of the value nobody pays less, so it is not named
Shares = Mapping[str, float]  # by class of making


@dataclass(frozen=True, slots=True)
class LastingFault:
    """One fault that stays in the value after the work.

    `left`: share of the value that it leaves, by class; `matter` is what it is one with in other checks; `accident`
    names what it came from, faults of which count together, None where it stands by itself; `points_to`: checks that
    count the same thing where they saw it.
    """

    check: str
    outcome: str
    say: str
    left: Shares
    probability: float
    matter: str
    accident: str | None = None
    points_to: tuple[str, ...] = ()

    def loss(self, class_: str) -> float:
        """The share of value that it takes in this class, by how sure it is."""
        return self.probability * (1.0 - self.left[class_])


@dataclass(frozen=True, slots=True)
class Lasting:
    """The faults, the ones that take most first, and the share of value that they leave together, by class."""

    faults: tuple[LastingFault, ...]
    left: Shares

    def left_of(self, shares: Shares) -> float:
        """The share left of an instrument whose classes have these shares, a geometric mean."""
        return exp(sum(share * log(self.left[name]) for name, share in shares.items()))


def retained(losses: Iterable[float]) -> float:
    """Share of value left after independent losses (shares 0..1): they multiply, they do not add."""
    return prod(1.0 - loss for loss in losses)


def accident(losses: Iterable[float]) -> float:
    """The loss (share 0..1) that the faults of one accident make together: the worst and a third of the rest."""
    ordered = sorted(losses, reverse=True)
    if not ordered:
        return 0.0
    return min(1.0, ordered[0] + REST_OF_AN_ACCIDENT * sum(ordered[1:]))


def lasting_of(faults: Sequence[LastingFault], classes: Sequence[str]) -> Lasting:
    """What these faults leave together in each class."""
    left = {name: _left(faults, name) for name in classes}
    middle = classes[len(classes) // 2] if classes else ""
    ordered = sorted(faults, key=lambda one: -one.loss(middle))
    return Lasting(tuple(ordered), left)


def _left(faults: Sequence[LastingFault], class_: str) -> float:
    by_check: dict[str, float] = {}
    for one in faults:
        by_check[one.check] = max(by_check.get(one.check, 0.0), one.loss(class_))
    by_matter: dict[tuple[str, str], float] = {}
    for one in faults:
        # What a look points at may have been seen there too: then it counts as far as it is the larger.
        elsewhere = max((by_check.get(name, 0.0) for name in one.points_to), default=0.0)
        key = (one.accident or f"matter {one.matter}", one.matter)
        by_matter[key] = max(by_matter.get(key, 0.0), one.loss(class_) - elsewhere)
    groups: dict[str, list[float]] = {}
    for (group, _), loss in by_matter.items():
        groups.setdefault(group, []).append(max(0.0, loss))
    return max(LEAST_LEFT, retained(accident(losses) for losses in groups.values()))
