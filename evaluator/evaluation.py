"""`evaluate`: the one way from an instrument's observations to the one result.

An `Evaluation` is frozen. Pages, papers and JSON never read it directly: they draw from `snapshot.to_json`, so that a
draft and a finished evaluation are shown by the same code, and what a customer was shown never changes by itself.
"""

import hashlib
from dataclasses import dataclass

from . import __version__
from .assessment.draws import assess
from .assessment.model import Assessment, Case, NextCheck
from .assessment.next_checks import Question, Stakes, next_checks, questions_for_seller
from .assessment.opinions import share_of_views
from .estimate.estimate import estimate
from .estimate.model import Estimate
from .rubric.rubric import Rubric
from .rubric.shop import Shop
from .valuation.model import Verdict
from .valuation.verdict import decide

DRAWS = 4000


@dataclass(frozen=True, slots=True)
class Evaluation:
    """The one result: the case, the rubric and shop it was judged by, and everything that follows from them."""

    program: str
    rubric: Rubric
    shop: Shop
    shop_hash: str
    seed: int
    case: Case
    assessment: Assessment
    estimate: Estimate
    verdict: Verdict
    next_checks: tuple[NextCheck, ...]
    questions: tuple[Question, ...]
    verdict_holds: float | None


def shop_hash(shop: Shop) -> str:
    """SHA-256 of the shop's figures, in hexadecimal."""
    return hashlib.sha256(shop.model_dump_json(by_alias=True).encode()).hexdigest()


def stakes_of(rubric: Rubric, work: Estimate, verdict: Verdict) -> Stakes | None:
    """What hangs on the next look: the asking price, the walk-away price, and what each fault would cost to cure."""
    if verdict.asking is None or verdict.walk_away_price is None:
        return None
    price = {line.job: line.cost.mean for line in (*work.lines, *work.optional)}
    price |= {extra.job: extra.cost.mean for extra in work.possible_extras}
    costs = {
        (check.check, name): min(price[job] for job in outcome.cured_by if job in price)
        for check in rubric.checks.values()
        for name, outcome in check.outcomes.items()
        if any(job in price for job in outcome.cured_by)
    }
    return Stakes(float(verdict.asking.amount), verdict.walk_away_price, costs)


def evaluate(rubric: Rubric, case: Case, shop: Shop, seed: int = 1, draws: int = DRAWS) -> Evaluation:
    """Score, findings, plan, price, verdict and next looks of one case; the same arguments give the same result."""
    assessment = assess(rubric, case, seed=seed, draws=draws)
    work = estimate(rubric, case, assessment, shop)
    verdict = decide(rubric, case, assessment, work, shop)
    stakes = stakes_of(rubric, work, verdict)
    return Evaluation(
        program=__version__,
        rubric=rubric,
        shop=shop,
        shop_hash=shop_hash(shop),
        seed=seed,
        case=case,
        assessment=assessment,
        estimate=work,
        verdict=verdict,
        next_checks=next_checks(rubric, case, assessment, stakes, case.looker, case.seen_by),
        questions=questions_for_seller(rubric, case, assessment),
        verdict_holds=share_of_views(rubric, case, assessment, seed=seed),
    )
