"""What a shop can give for an instrument, from its result: a finished one keeps its figures.

The shop's own terms are today's: an offer is made today. What is told of it is made in `wording.choosing.trade_in`.
"""

from dataclasses import dataclass
from math import exp, log

from ..assessment.model import Case
from ..basis.problem import Message, Messages, Problem, problem
from ..result.model.result import Result
from ..rubric.rubric import Rubric
from ..rubric.shop import Shop
from .entrants import unseen_of
from .told import Months
from .trade_in import Answers, Materials, TradeIn, Work, before_any_figure, said, trade_in

ASKED_OF_MATERIALS = ("restricted_materials_papers", "bow_material_restrictions")
FREE = ("none", "free")  # their outcomes that say that nothing protected is on it

MESSAGES: Messages = {
    "decision.ready_value": Message(
        "nothing says what it would be marked at when ready.",
        "Enter the shop's own price for it, ready (--ticket), or a ready value in the evaluation.",
    ),
    "decision.old_figures": Message(
        "it was finished before the prices of parts were kept, so the shop's own cost cannot be told.",
        "Look at it again, and make the offer from the new evaluation.",
    ),
}


@dataclass(frozen=True, slots=True)
class Asked:
    """What is wanted of a trade-in: the answers given first, the price of what is bought, the ticket when ready."""

    answers: Answers
    new_price: float = 0.0
    ticket: float | None = None


@dataclass(frozen=True, slots=True)
class Offered:
    """The ways out, and what they rest on: the work, and what it would be marked at when ready (`own`: as given)."""

    work: Work
    ticket: float
    own: bool
    found: TradeIn


def offered(shown: Result, shop: Shop, asked: Asked) -> Offered | tuple[Problem, ...]:
    """The ways out for the owner side by side, or what must be settled before any figure is named."""
    wrong = list(before_any_figure(asked.answers))
    work, ticket = work_of(shown), _ticket(shown, shop, asked)
    if not wrong and ticket is None:
        wrong.append(problem(MESSAGES, "decision.ready_value", "trade-in"))
    if not wrong and work is None:
        wrong.append(problem(MESSAGES, "decision.old_figures", "trade-in"))
    if wrong or ticket is None or work is None:
        return tuple(wrong)
    exact = trade_in(work, ticket, shop, asked.new_price, private_share_of(shown, shop))
    return Offered(work, ticket, asked.ticket is not None, said(exact, shop.buying))


def _ticket(shown: Result, shop: Shop, asked: Asked) -> float | None:
    """What it would be marked at when ready: as given, else the ready value of the evaluation in the shop's money."""
    if asked.ticket is not None:
        return asked.ticket
    ready = shown.verdict.ready_value
    return float(ready.amount) if ready is not None and ready.currency == shop.currency else None


def materials_seen(rubric: Rubric, case: Case) -> Materials:
    """What was seen of protected materials, from looks in person; 'unknown' where nothing says it."""
    for name in ASKED_OF_MATERIALS:
        for seen in case.observations.get(name, ()):
            outcome = rubric.checks[name].outcomes.get(seen.outcome or "")
            if outcome is None or seen.seen_by != "in_person":
                continue
            if seen.outcome in FREE:
                return "none"
            if outcome.class_ == "disqualifying":
                return "not_allowed"
            return "allowed" if outcome.class_ in {"sound", "acceptable"} else "unknown"
    return "unknown"


def work_of(shown: Result) -> Work | None:
    """Hours, parts and price of the plan that a result holds; None where it keeps no prices of parts."""
    plan = shown.plan
    if plan.parts_likely is None:
        return None
    not_seen = max(0.0, shown.with_possible_extras.mean - plan.mean) + unseen_of(shown)
    return Work(sum(line.hours_likely for line in plan.lines), plan.parts_likely, plan.mean, not_seen)


def private_share_of(shown: Result, shop: Shop) -> float | None:
    """What one like it brings without a shop, over the classes that it may be of; None where the guide has no such."""
    private, shares = shop.guide.private_share, shown.making.shares
    if not shares or any(name not in private for name in shares):
        return None
    return exp(sum(share * log(private[name].likely) for name, share in shares.items()))


def months_of(shown: Result, shop: Shop) -> Months | None:
    """How many months such an instrument takes to sell; None where the guide does not say."""
    usual = shop.guide.months_to_sell.get(shown.making.likeliest or "")
    return None if usual is None else Months(low=usual.low, high=usual.high)
