"""`evaluate`: the one way from an instrument's observations to the one result.

An `Evaluation` is frozen. Pages, papers and JSON never read it directly: they draw from the `Result` that `making`
makes of it, so that a draft and a finished evaluation are shown by the same code, and what a customer was shown never
changes by itself.
"""

import hashlib
from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace

from .. import __version__
from ..assessment.looking.information import Looks, Stakes
from ..assessment.looking.next_checks import (
    PhotoWish,
    Question,
    next_checks,
    photos_to_ask_for,
    questions_for_seller,
    visit,
)
from ..assessment.model import Assessment, Case, NextCheck
from ..assessment.scoring.draws import assess
from ..assessment.scoring.known import know
from ..assessment.scoring.opinions import Turn, judge_of, share_of_views, turns, views_of
from ..estimate.estimate import estimate, plan_known
from ..estimate.leaving import left_by
from ..estimate.model import Estimate
from ..estimate.price import for_size
from ..rubric.model import jobs_of
from ..rubric.rubric import Rubric
from ..rubric.shop import Shop
from ..valuation.model import Verdict
from ..valuation.price_guide import guide_reading
from ..valuation.rules import rule
from ..valuation.sales.sales_book import SalesBook
from ..valuation.verdict import decide

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
    visit: tuple[NextCheck, ...]
    questions: tuple[Question, ...]
    photos: tuple[PhotoWish, ...]
    verdict_holds: float | None
    turns: tuple[Turn, ...]
    score_band_holds: float


def shop_hash(shop: Shop) -> str:
    """SHA-256 of the shop's figures, in hexadecimal."""
    return hashlib.sha256(shop.model_dump_json(by_alias=True).encode()).hexdigest()


def stakes_of(rubric: Rubric, work: Estimate, verdict: Verdict) -> Stakes | None:
    """What hangs on the next look: the asking price, the walk-away price, and what each fault would cost to cure."""
    if verdict.asking is None or verdict.walk_away_price is None:
        return None
    price = {line.job: line.cost.mean for line in (*work.lines, *work.optional)}
    price |= {extra.job: extra.cost.mean for extra in work.possible_extras}
    costs = {}
    for check in rubric.checks.values():
        for name, outcome in check.outcomes.items():
            ways = [price.get(cure) or _together(price, jobs_of(cure)) for cure in outcome.cured_by]
            known = [way for way in ways if way is not None]
            if known:
                costs[check.check, name] = min(known)
    return Stakes(float(verdict.asking.amount), verdict.walk_away_price, costs)


def _together(price: Mapping[str, float], jobs: tuple[str, ...]) -> float | None:
    """The price of jobs that are done together; None where one of them has none."""
    return sum(price[job] for job in jobs) if all(job in price for job in jobs) else None


def weights_matter(verdict: Verdict) -> bool:
    """Whether the advice hangs on the score: only the price guide reads its value from it."""
    return verdict.ready is not None and verdict.ready.kind == "price_guide"


def advice_rule(
    rubric: Rubric, case: Case, assessment: Assessment, work: Estimate, verdict: Verdict, shop: Shop
) -> Callable[[float], str] | None:
    """The advice as a rule of the after-work score, for asking other weightings; None without an advice.

    With a ready value that is not the guide's the score does not enter, and the rule gives the same advice for every
    score.
    """
    if verdict.advice is None or verdict.asking is None or verdict.ready is None:
        return None
    asking, own = float(verdict.asking.amount), float(verdict.ready.value.amount)
    by_guide = weights_matter(verdict)
    reading = guide_reading(rubric, case, assessment, shop)
    stopped = bool(verdict.stopped_by)

    def advice(score: float) -> str:
        guided = reading.price(score - assessment.score_after.expected) if by_guide else None
        ready = own if guided is None else guided.likely
        return rule(ready, work.with_extras_mean, work.with_extras_p80, asking, stopped=stopped).advice

    return advice


def evaluate(
    rubric: Rubric, case: Case, shop: Shop, seed: int = 1, draws: int = DRAWS, book: SalesBook | None = None
) -> Evaluation:
    """Score, findings, plan, price, verdict and next looks of one case; the same arguments give the same result.

    `book`: known sales, which go before every other source of the ready value where there are enough of them.
    """
    rubric = for_size(rubric, case.instrument.size)
    known = know(rubric, case)
    planned = plan_known(rubric, case, known, shop)
    left = left_by(planned.planner, planned.plan, case, known.held)
    assessment = assess(rubric, case, seed, draws, replace(known, left=left))
    work = estimate(rubric, case, assessment, shop, planned)
    verdict = decide(rubric, case, assessment, work, shop, book)
    stakes = stakes_of(rubric, work, verdict)
    advice = advice_rule(rubric, case, assessment, work, verdict, shop)
    judge = None if advice is None else judge_of(advice)
    looks = Looks(rubric, case, assessment, stakes)
    views = views_of(rubric, case, assessment, seed)
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
        next_checks=next_checks(looks, case.looker, case.seen_by),
        visit=visit(looks),
        questions=questions_for_seller(looks),
        photos=photos_to_ask_for(looks),
        verdict_holds=None if judge is None else share_of_views(views, assessment, judge),
        turns=() if judge is None or not weights_matter(verdict) else turns(rubric, case, assessment, judge),
        score_band_holds=share_of_views(views, assessment),
    )
