"""`estimate`: from the findings of an assessment to the plan, its price as a range, and what may come on top.

Faults that are confirmed or probable and below the tier's standard must be cured; what is only recommended is offered
beside it; what was seen and is only possible is an extra with its chance. What nobody has looked at is kept apart: it
is in no total, but in the draws that say how sure the verdict is. All draws share the worlds of the assessment, so
that an extra comes in the very worlds in which its fault is there.
"""

from collections.abc import Iterable, Mapping, Sequence

import numpy as np

from ..assessment.model import Assessment, Case, Finding, Worlds
from ..basis.chance import quantile
from ..basis.show import minutes
from ..rubric.rubric import Rubric
from ..rubric.shop import Shop
from .extras import (
    FOUND,
    Chance,
    Least,
    Paid,
    cheapest_addition,
    following,
    joined,
    on_top,
    paid_by,
    sentence,
    with_addition,
)
from .lines import MINIMUM, cures, job_line, minimum_line, plan_lines, shared_line
from .model import Ambition, AmbitionName, Estimate, PlanLine
from .pert import Draws, order_mean
from .plan import Need, Plan, Planner
from .price import Grade, PriceList

STREAM = 7_919  # keeps the draws of prices apart from those of the assessment under the same seed
NO_CURE = "No work cures this; it lowers what the instrument is worth instead."
REQUIRED = ("to_play_safely", "to_standard")


def estimate(rubric: Rubric, case: Case, assessment: Assessment, shop: Shop) -> Estimate:
    """The whole estimate; an empty one, with every figure 0, where nothing is needed."""
    planner = Planner(PriceList(rubric, shop))
    required, optional, possible, uncured = _sorted_out(rubric, case, assessment)
    plan = planner.plan(required)
    lines = plan_lines(planner, plan)
    minimum = minimum_line(lines, shop.minimum_charge, shop.currency)
    lines += minimum
    least = _least(lines, minimum, shop)
    paid = paid_by(plan.jobs, plan.shared)
    worlds = assessment.worlds
    seed = worlds.seed + STREAM
    suspected = [one for one in possible if one.seen]
    chances = _possible(planner, paid, rubric, case, suspected, assessment.worlds)
    extras = joined(planner, [*chances, *following(planner, paid, seed, worlds.count)], least)
    unlooked = [one for one in possible if not one.seen]
    unseen = joined(planner, _possible(planner, paid, rubric, case, unlooked, assessment.worlds), least)
    draws = Draws(shop.labour_correlation, seed, worlds.count)
    order = draws.total([(line.job, line.cost) for line in lines])
    mean = order_mean(line.cost for line in lines)
    more, on_order = on_top(planner, draws, extras, least)
    most, on_all = on_top(planner, draws, [*extras, *unseen], least)
    beside = _optional(planner, paid, optional)
    reasons = {need.check: reason for need, reason in plan.unmet.items()}
    return Estimate(
        currency=shop.currency,
        lines=lines,
        optional=beside,
        possible_extras=tuple(one.extra for one in extras),
        mean=mean,
        p50=quantile(order, 0.5),
        p80=quantile(order, 0.8),
        with_extras_mean=mean + more,
        with_extras_p80=quantile(order + on_order, 0.8),
        hours_likely=sum(line.hours_likely for line in lines),
        uncured={**uncured, **reasons},
        proven_optimal=plan.proven,
        draws=order,
        draws_with_extras=order + on_order,
        cures=_cured(planner, plan),
        may_save=plan.may_save,
        unseen_extras=tuple(one.extra for one in unseen),
        unseen_mean=max(0.0, most - more),
        draws_with_unseen=order + np.maximum(on_order, on_all),
        ambitions=_ambitions(planner, shop, draws, required, lines, beside),
    )


def _ambitions(
    planner: Planner,
    shop: Shop,
    draws: Draws,
    required: Iterable[Need],
    lines: tuple[PlanLine, ...],
    beside: tuple[PlanLine, ...],
) -> tuple[Ambition, ...]:
    """The three levels; the safe one has a plan of its own, because less work may be done in another way."""
    safe = planner.plan(need for need in required if need.urgency == "to_play_safely")
    alone = plan_lines(planner, safe, choices=False)
    planned = tuple(line for line in lines if line.job != MINIMUM)
    recommended = [line for line in beside if line.urgency not in ("cosmetic", "can_wait")]
    orders: tuple[tuple[AmbitionName, tuple[PlanLine, ...]], ...] = (
        ("safe", alone),
        ("standard", planned),
        ("recommended", (*planned, *recommended)),
    )
    return tuple(_ambition(shop, draws, name, order) for name, order in orders)


def _ambition(shop: Shop, draws: Draws, name: AmbitionName, lines: tuple[PlanLine, ...]) -> Ambition:
    """One level of these lines, with what raises a small order to the shop's minimum charge."""
    order = (*lines, *minimum_line(lines, shop.minimum_charge, shop.currency))
    drawn = draws.total([(line.job, line.cost) for line in order])
    low, p80, high = (quantile(drawn, share) for share in (0.05, 0.8, 0.95))
    low = max(low, float(shop.minimum_charge)) if order else 0.0
    jobs = tuple(line.job for line in order if not line.shared)
    return Ambition(name, jobs, order_mean(line.cost for line in order), p80, low, high)


def saved_by_grade(rubric: Rubric, case: Case, assessment: Assessment, shop: Shop, grade: Grade) -> float:
    """How much less the required order costs by its mean when every part is of this grade; the plan is made anew."""
    required = _sorted_out(rubric, case, assessment)[0]
    own, other = (Planner(PriceList(rubric, shop, one)).plan(required).mean for one in (None, grade))
    return own - other


def needs_of(rubric: Rubric, case: Case, findings: Iterable[Finding]) -> list[Need]:
    """Findings that work can cure as needs, each with how many times it is there."""
    counted = _counted(rubric, case)
    return [
        Need(one.check, one.outcome, one.say, one.cured_by, one.urgency, _units(rubric, one, counted))
        for one in findings
        if one.cured_by
    ]


def _units(rubric: Rubric, finding: Finding, counted: Mapping[str, int]) -> int:
    """How many times a fault is there: as counted, and no less than its outcome says."""
    return max(rubric.checks[finding.check].outcomes[finding.outcome].units, counted.get(finding.check, 1))


def _counted(rubric: Rubric, case: Case) -> Mapping[str, int]:
    """How many times the fault of a check is there, where somebody counted it: there, or in a check that asks it."""
    found: dict[str, int] = {}
    for name, seen in case.observations.items():
        count = rubric.checks[name].count if name in rubric.checks else None
        read = [one.reading.value for one in seen if one.reading is not None]
        if count is None or not read:
            continue
        for check in (*count.units_of, *((name,) if count.each_is_a_fault else ())):
            found[check] = max(found.get(check, 1), round(max(read)))
    return found


def _sorted_out(
    rubric: Rubric, case: Case, assessment: Assessment
) -> tuple[list[Need], list[Need], list[Finding], dict[str, str]]:
    """(must be cured, may be cured, only possible, what no work cures with the reason).

    A disqualifying outcome that work can cure is priced like any fault: it stops a purchase, not a repair.
    """
    must: list[Finding] = []
    may: list[Finding] = []
    possible: list[Finding] = []
    uncured: dict[str, str] = {}
    for one in (*assessment.disqualifying, *assessment.findings):
        asked = one.required or (one.class_ == "disqualifying" and one.urgency in REQUIRED)
        if one.level == "possible":
            if asked and one.cured_by:
                possible.append(one)
        elif not one.cured_by:
            uncured[one.check] = NO_CURE
        else:
            (must if asked else may).append(one)
    return needs_of(rubric, case, must), needs_of(rubric, case, may), possible, uncured


def _least(lines: Iterable[PlanLine], minimum: Iterable[PlanLine], shop: Shop) -> Least:
    """What the minimum charge does to what comes on top: it takes up what it already raised, or raises a lone extra."""
    missing = sum(line.cost.mean for line in minimum)
    return Least(missing if tuple(lines) else float(shop.minimum_charge), missing)


def _possible(
    planner: Planner, paid: Paid, rubric: Rubric, case: Case, findings: Sequence[Finding], worlds: Worlds
) -> Iterable[Chance]:
    """Extras from faults that are only possible, in the worlds in which they are there."""
    for one, need in zip(findings, needs_of(rubric, case, findings), strict=True):
        found = cheapest_addition(planner, paid, need)
        if found is None or found.cost.high <= 0:
            continue
        check = rubric.checks[one.check]
        mask = worlds.has(one.check, list(check.outcomes).index(one.outcome))
        known = f"By a look of about {minutes(check.minutes)}: {check.ask}"
        yield Chance(found, one.probability, mask, f"{FOUND}{sentence(one.say)}", known)


def _optional(planner: Planner, paid: Paid, needs: Iterable[Need]) -> tuple[PlanLine, ...]:
    """Lines for what is recommended: each the cheapest addition to what is planned, without pushing anything out."""
    wanted: dict[str, list[Need]] = {}
    shared: list[str] = []
    units: dict[str, int] = {}
    brought: dict[str, str] = {}
    for need in needs:
        more = cheapest_addition(planner, paid, need, replacing=False)
        if more is None:
            for job in sorted(planner.cured_with(need, paid.jobs) & set(wanted)):
                wanted[job].append(need)
            continue
        for place, job in enumerate(more.jobs):
            wanted.setdefault(job, [])
            if place >= more.asked:
                brought[job] = more.jobs[0]
            else:
                wanted[job].append(need)
                units[job] = planner.times(job, need.units)
        shared += more.shared
        paid = with_addition(paid, more)
    lines = [job_line(planner, job, found, brought.get(job), units.get(job, 1)) for job, found in wanted.items()]
    return (*lines, *(shared_line(planner, name, lines) for name in shared))


def _cured(planner: Planner, plan: Plan) -> Mapping[str, str]:
    """Which job of the plan cures which check's fault, the first where several do."""
    found: dict[str, str] = {}
    for job, needs in cures(planner, plan.jobs, plan.needs).items():
        for need in needs:
            found.setdefault(need.check, job)
    return found
