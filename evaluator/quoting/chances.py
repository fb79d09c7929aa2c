"""Learning from done orders how often a possible extra truly comes: the chance told, the own count and the blend.

Each chance that a quote told is a prior that counts as so many orders (`PRIOR_ORDERS`): a Beta law. An extra came or
did not in each done order, which is binomial, so the posterior is a Beta law again and its mean is the blend (Gelman et
al., Bayesian Data Analysis, chapter 2; from memory). An extra came where a second quote of the order asked for it,
whatever was answered: it was found. A quote that was offered is never touched.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace

from .draft import Draft, DraftExtra
from .quote import Quote

PRIOR_ORDERS = 10.0  # chances from memory are worth about ten orders of one's own; judged, no source
Order = tuple[Quote, tuple[Quote, ...]]  # a done quote, and the second quotes of its order that were offered


@dataclass(frozen=True, slots=True)
class OwnChance:
    """One possible extra: `told` is the mean chance (0..1) of the quotes that named it, `orders` how many of those are
    done, `came` in how many of them it was found.
    """

    job: str
    say: str
    told: float
    orders: int
    came: int

    @property
    def weight(self) -> float:
        """The share of the own record in the blend."""
        return self.orders / (PRIOR_ORDERS + self.orders)

    @property
    def blend(self) -> float:
        return self.blended(self.told)

    def blended(self, told: float) -> float:
        """What becomes of a chance that a new quote would tell; between it and the own share."""
        return (PRIOR_ORDERS * told + self.came) / (PRIOR_ORDERS + self.orders)


def own_chances(orders: Iterable[Order]) -> Mapping[str, OwnChance]:
    """Each extra that a done quote named, by its job, with what truly came."""
    found: dict[str, list[tuple[str, float, bool]]] = {}
    for quote, more in orders:
        asked = {line.job for one in more for line in one.lines if line.takes_off is None}
        for extra in quote.extras:
            found.setdefault(extra.job, []).append((extra.say, extra.chance, extra.job in asked))
    return {job: _of(job, told) for job, told in found.items()}


def _of(job: str, told: list[tuple[str, float, bool]]) -> OwnChance:
    mean = sum(chance for _, chance, _ in told) / len(told)
    return OwnChance(job, told[-1][0], mean, len(told), sum(came for _, _, came in told))


def at_own_chances(draft: Draft, own: Mapping[str, OwnChance]) -> Draft:
    """The same draft with the chance of each extra moved by what came in one's own orders."""
    extras = tuple(_moved(one, own[one.job]) if one.job in own else one for one in draft.extras)
    return replace(draft, extras=extras)


def _moved(extra: DraftExtra, own: OwnChance) -> DraftExtra:
    return replace(extra, chance=own.blended(extra.chance), own_orders=own.orders)
