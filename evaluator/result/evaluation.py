"""`evaluate`: the one way from an instrument's observations to the one result.

An `Evaluation` is frozen. Pages, papers and JSON never read it directly: they draw from the `Result` that `making`
makes of it, so that a draft and a finished evaluation are shown by the same code, and what a customer was shown never
changes by itself.
"""

import hashlib
import json
from dataclasses import replace
from decimal import Decimal

from .. import __version__
from ..assessment.looking.information import Looks
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
from ..assessment.scoring.known import Known, know
from ..assessment.scoring.opinions import share_of_views, views_of
from ..basis.frozen import dataclass
from ..estimate.estimate import estimate, plan_known
from ..estimate.leaving import left_by
from ..estimate.model import Estimate
from ..estimate.price import for_size
from ..rubric.rubric import Rubric
from ..rubric.shop import Shop
from ..rubric.written.kinds import Written
from ..valuation.deciding.decide import decide
from ..valuation.deciding.other_guides import share_of_guides
from ..valuation.deciding.weigh import Weighed, weigh
from ..valuation.model import Decision
from ..valuation.sales.sales_book import SalesBook

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
    known: Known
    assessment: Assessment
    estimate: Estimate
    weighed: Weighed
    verdict: Decision
    next_checks: tuple[NextCheck, ...]
    visit: tuple[NextCheck, ...]
    questions: tuple[Question, ...]
    photos: tuple[PhotoWish, ...]
    verdict_holds: float | None
    score_band_holds: float


def shop_hash(shop: Shop) -> str:
    """SHA-256 of the shop's figures and of which are the default's, in hexadecimal."""
    # As `model_dump_json(by_alias=True)`, without the writer that would first have to be made.
    figures = json.dumps(shop, default=_plain, separators=(",", ":"), ensure_ascii=False)
    return hashlib.sha256(f"{figures}{','.join(shop.borrowed)}".encode()).hexdigest()


def _plain(value: object) -> object:
    """A record of the shop's file by its names there; an exact amount as text."""
    if isinstance(value, Written):
        return {field.alias or name: getattr(value, name) for name, field in type(value).model_fields.items()}
    if isinstance(value, Decimal):
        return str(value)
    raise TypeError(type(value).__name__)


def evaluate(
    rubric: Rubric, case: Case, shop: Shop, seed: int = 1, draws: int = DRAWS, book: SalesBook | None = None
) -> Evaluation:
    """Score, findings, plan, price, verdict and next looks of one case; the same arguments give the same result.

    Where only work is to be done nobody buys: a price that was asked counts for nothing, and no seller is asked.

    `book`: known sales, which go before every other source of the ready value where there are enough of them.
    """
    rubric = for_size(rubric, case.instrument.size)
    owned = case.purpose == "quote"
    case = replace(case, asking=None) if owned else case
    known = know(rubric, case)
    planned = plan_known(rubric, case, known, shop)
    left = left_by(planned.planner, planned.plan, case, known.held)
    assessment = assess(rubric, case, seed, draws, replace(known, left=left))
    work = estimate(rubric, case, assessment, shop, planned)
    weighed = weigh(rubric, case, assessment, work, shop, book)
    looks = Looks(rubric, case, assessment, weighed.net)
    verdict = decide(weighed, looks)
    views = views_of(rubric, case, assessment, seed)
    return Evaluation(
        program=__version__,
        rubric=rubric,
        shop=shop,
        shop_hash=shop_hash(shop),
        seed=seed,
        case=case,
        known=known,
        assessment=assessment,
        estimate=work,
        weighed=weighed,
        verdict=verdict,
        next_checks=next_checks(looks, case.looker, case.seen_by),
        visit=visit(looks),
        questions=() if owned else questions_for_seller(looks),
        photos=photos_to_ask_for(looks),
        verdict_holds=share_of_guides(weighed, verdict),
        score_band_holds=share_of_views(views, assessment),
    )
