"""`evaluate`: the one way from an instrument's observations to the one result, and the looks that it asks of a visit.

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
    measurable,
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
from ..estimate.model import Estimate
from ..estimate.planning.plan import left_by
from ..estimate.price import for_size
from ..rubric.rubric import Rubric
from ..rubric.shop import Shop
from ..rubric.written.kinds import Channel, Written
from ..valuation.deciding.decide import decide
from ..valuation.deciding.turning import share_of_guides
from ..valuation.deciding.weigh import Weighed, weigh
from ..valuation.model import Decision
from ..valuation.sales.sales_book import SalesBook

DRAWS = 4000
LEAST_PHOTO_LOOKS, MOST_PHOTO_LOOKS = 6, 8
MOST_LOOKS = 40  # but for the whole usual look


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


def turning_looks(evaluation: Evaluation, at_hand: frozenset[str] | None) -> tuple[str, ...]:
    """Ids of the checks that could still turn the advice and can be done with these tools, what tells most first."""
    checks = evaluation.rubric.checks
    return tuple(one.check for one in evaluation.verdict.could_change if measurable(checks[one.check], at_hand))


def planned_looks(
    evaluation: Evaluation, minutes: float | None, channel: Channel, at_hand: frozenset[str] | None
) -> tuple[str, ...]:
    """Ids of the checks to look at, in order. `minutes`: None for the whole usual look. `at_hand`: tools by id, None
    where any may be had.

    Photographs are gone through quickly: six to eight looks, however long each would take in the hand.
    """
    looks = Looks(evaluation.rubric, evaluation.case, evaluation.assessment, evaluation.weighed.net)
    found = visit(looks, minutes, channel=channel, at_hand=at_hand)
    if channel == "photos" and minutes is not None and len(found) < LEAST_PHOTO_LOOKS:
        found = visit(looks, 3 * minutes, channel=channel, at_hand=at_hand)
    most = MOST_PHOTO_LOOKS if channel == "photos" else MOST_LOOKS if minutes is not None else None
    return tuple(look.check for look in found[:most])
