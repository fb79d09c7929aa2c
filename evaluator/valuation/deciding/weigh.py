"""Everything that a decision is made from, worked out once: worth, work, what nobody looked at, and all of it by world.

worth to the buyer = ready value, times the private share of its class where no shop stands behind it
work               = the plan with what may come on top of it by its chance, as the buyer pays it, with tax
unseen             = the usual cost of faults that nobody has looked for, by class and by how much was seen
"""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property
from math import exp, log

import numpy as np
from numpy.typing import NDArray

from ...assessment.model import Assessment, Case
from ...basis.chance import quantile
from ...estimate.model import Estimate
from ...rubric.guide import Guide
from ...rubric.rubric import Rubric
from ...rubric.shop import Shop, Tax
from ...rubric.written.surroundings import Figure
from ..sales.sales_book import SalesBook
from ..worth.answers import Answer, answers_of, seen_share
from ..worth.guide import cost_of, usual_cost
from ..worth.mixture import Law, Mixture
from ..worth.ready import ReadyValue, ready_value
from .ladder import Limits, Sums, limits, turns_of
from .stops import StopSign, believed, stop_signs
from .worlds import ClassLaw, Worlds, drawn_worlds

Floats = NDArray[np.float64]
SOUNDNESS_AND_SET_UP = {"soundness": 1.0, "playability": 1.0}
TAILS = 0.025  # of the worlds at each end; beyond, a dear tail would carry every mean
SURELY = 0.5  # from this belief on somebody has said that who sells it stands in for what is hidden
ONE_LAW = ""  # the name of the only law where a figure stands for the whole instrument


@dataclass(frozen=True)
class Weighed:
    """All of it. `worth` is the law of what it is worth to the buyer, None without any; `sums` and `limits` need it.

    `seen`: share of soundness and set-up that was looked at; `with_shop`: a shop stands behind it.
    """

    rubric: Rubric
    case: Case
    assessment: Assessment
    shop: Shop
    estimate: Estimate
    answers: Mapping[str, Answer]
    ready: ReadyValue
    stops: tuple[StopSign, ...]
    stopped: tuple[StopSign, ...]
    seen: float
    with_shop: bool
    worth: Mixture | None
    taxed: float

    def figure(self, name: Figure) -> float:
        """A figure of judgement."""
        return self.rubric.figure(name)

    @property
    def asking(self) -> float | None:
        return None if self.case.asking is None else float(self.case.asking.amount)

    @property
    def is_unsellable(self) -> bool:
        """Whether a fault that money does not cure, or its sound, keeps it from selling at any usual price."""
        reading = self.ready.reading
        by_sound = (
            self.ready.kind == "price_guide" and reading is not None and reading.tone <= self.figure("sounds_bad")
        )
        return bool(self.stopped) or by_sound

    @property
    def lowered(self) -> bool:
        """Whether that lowers the ceiling: a figure typed for this very instrument holds it already."""
        return self.is_unsellable and self.ready.kind != "own_figure"

    @property
    def hard(self) -> bool:
        return self.is_unsellable or (self.sums is not None and self.sums.much_work)

    @property
    def factor(self) -> float:
        return 1.0 if self.sums is None else self.sums.factor(stopped=self.lowered)

    @cached_property
    def unseen(self) -> float:
        """Usual cost of what nobody looked at, by the shares of the classes; 0 without a guide for it."""
        shares = self.assessment.making.shares
        guide, family = self.shop.guide, self.rubric.family
        return usual_cost(guide, family, shares, self.seen, answered_for=self.with_shop) or 0.0

    @cached_property
    def sums(self) -> Sums | None:
        if self.worth is None:
            return None
        work = self.estimate.with_extras_mean * self.taxed
        dear = self.estimate.with_extras_p80 * self.taxed
        turns = turns_of(self.rubric)
        low = self.worth.quantile(1.0 - turns.probably)
        return Sums(self.worth.middle, low, work, dear, self.unseen, turns)

    @cached_property
    def limits(self) -> Limits | None:
        return None if self.sums is None else limits(self.sums, stopped=self.lowered)

    @cached_property
    def worlds(self) -> Worlds | None:
        """What it comes to in each world; None without a worth."""
        if self.worth is None:
            return None
        work = self.estimate.draws_with_extras * self.taxed
        laws = self._laws(self.worth)
        return drawn_worlds(self.rubric, self.case, self.assessment, self.shop, laws, work, self.answers)

    @property
    def spent(self) -> Floats:
        """What the work and what nobody looked at cost in each world."""
        work: Floats = self.estimate.draws_with_extras * self.taxed
        return work + (self.unseen if self.worlds is None else self.worlds.unseen)

    def _laws(self, worth: Mixture) -> dict[str, ClassLaw]:
        shares = self.assessment.making.shares
        if len(worth.laws) != len(shares):
            law = worth.laws[0]
            return {ONE_LAW: ClassLaw(law.log_mean, law.log_sd, self.unseen)}
        guide, factor = self.shop.guide, self.shop.guide.unseen_factor.get(self.rubric.family, 1.0)
        return {
            name: ClassLaw(
                law.log_mean,
                law.log_sd,
                cost_of(guide.unseen[name], self.seen, answered_for=self.with_shop) * factor
                if name in guide.unseen
                else 0.0,
            )
            for name, law in zip(shares, worth.laws, strict=True)
        }

    @cached_property
    def net(self) -> Floats | None:
        """What buying at the asking price gains in each world; its mean is the ceiling less the price."""
        if self.worlds is None or self.asking is None or self.sums is None:
            return None
        net = self.worlds.net(self.factor)
        low, high = quantile(net, TAILS), quantile(net, 1.0 - TAILS)
        steady = np.clip(net, low, high)
        middle = (self.sums.worth - self.sums.work - self.sums.unseen) * self.factor
        found: Floats = steady - steady.mean() + (middle - self.asking)
        return found


def weigh(
    rubric: Rubric, case: Case, assessment: Assessment, work: Estimate, shop: Shop, book: SalesBook | None = None
) -> Weighed:
    """All of it for one case."""
    answers = answers_of(rubric, case, assessment)
    ready = ready_value(rubric, case, assessment, shop, answers, book)
    stops = stop_signs(rubric, case, assessment, answers)
    with_shop = answered_for(answers)
    return Weighed(
        rubric=rubric,
        case=case,
        assessment=assessment,
        shop=shop,
        estimate=work,
        answers=answers,
        ready=ready,
        stops=stops,
        stopped=believed(stops),
        seen=seen_share(rubric, case, SOUNDNESS_AND_SET_UP, rubric.figure("full_look")),
        with_shop=with_shop,
        worth=_worth_to_buyer(ready, assessment, shop, with_shop=with_shop),
        taxed=taxed(work, shop.tax),
    )


def _worth_to_buyer(ready: ReadyValue, assessment: Assessment, shop: Shop, *, with_shop: bool) -> Mixture | None:
    """The law of what it is worth to who buys it here. An own figure is taken as it was typed."""
    if ready.mixture is None or ready.kind == "own_figure":
        return ready.mixture
    shares = assessment.making.shares
    private = {name: share_to_buyer(shop.guide, name, with_shop=with_shop) for name in shares}
    if ready.kind == "comparables":
        return ready.mixture.scaled(exp(sum(share * log(private[name]) for name, share in shares.items())))
    laws = zip(shares, ready.mixture.laws, strict=True)
    return Mixture(tuple(Law(law.share, law.log_mean + log(private[name]), law.log_sd) for name, law in laws))


def taxed(work: Estimate, tax: Tax) -> float:
    """What the buyer pays for the work against its price without tax; labour and parts may be taxed differently."""
    labour = sum(line.cost.mean if line.labour is None else line.labour.mean for line in work.lines)
    whole = sum(line.cost.mean for line in work.lines)
    if whole <= 0.0:
        return 1.0 + tax.labour
    return 1.0 + (labour * tax.labour + (whole - labour) * tax.parts) / whole


def answered_for(answers: Mapping[str, Answer]) -> bool:
    """Whether whoever sells it stands in for what is hidden, as far as somebody said so."""
    return any(one.outcome.answers_for and one.sure >= SURELY for one in answers.values())


def share_to_buyer(guide: Guide, class_: str, *, with_shop: bool) -> float:
    """Share of a shop's price that it is worth to who buys it here; the whole where a shop stands behind it.

    A class that the guide does not know keeps the whole.
    """
    private = guide.private_share.get(class_)
    return 1.0 if with_shop or private is None else private.likely
