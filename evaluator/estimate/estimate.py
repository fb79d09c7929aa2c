"""`estimate`: from the findings of an assessment to the plan, its price as a range, and what may come on top.

Faults that are confirmed or probable and below the tier's standard must be cured; what is only recommended is offered
beside it; what was seen and is only possible is an extra with its chance. What nobody has looked at is kept apart: it
is in no total, but in the draws that say how sure the verdict is. All draws share the worlds of the assessment, so
that an extra comes in the very worlds in which its fault is there.
"""

from collections.abc import Iterable, Mapping, Sequence

import numpy as np

from ..assessment.model import Assessment, Case, Finding, Worlds
from ..assessment.scoring.findings import findings
from ..assessment.scoring.known import Known
from ..basis.chance import quantile
from ..basis.frozen import dataclass
from ..rubric.fitting import Setting
from ..rubric.rubric import Rubric
from ..rubric.shop import Shop
from .extras import (
    Chance,
    Least,
    Paid,
    cheapest_addition,
    following,
    joined,
    on_top,
    paid_by,
    with_addition,
)
from .lines import MINIMUM, cures, job_line, minimum_line, plan_lines, shared_line
from .model import Ambition, AmbitionName, ByLook, Estimate, IfFound, PlanLine
from .needed import Needed, needed, needs_of, setting_known, setting_of
from .pert import Draws, order_mean
from .planning.catalogue import Need, forced_jobs
from .planning.plan import Plan, Planner
from .price import Grade, price_list

STREAM = 7_919  # keeps the draws of prices apart from those of the assessment under the same seed


@dataclass(frozen=True, slots=True)
class Planned:
    """What is needed and the plan for it, before any draw."""

    planner: Planner
    needed: Needed
    plan: Plan


def plan_work(
    rubric: Rubric, case: Case, findings: Iterable[Finding], setting: Setting, shop: Shop, grade: Grade | None = None
) -> Planned:
    """The plan for what was found; `grade` takes every part in that grade."""
    planner = Planner(price_list(rubric, shop, grade), setting)
    wanted = needed(rubric, case, findings)
    return Planned(planner, wanted, planner.plan(wanted.must))


def plan_known(rubric: Rubric, case: Case, known: Known, shop: Shop) -> Planned:
    """The plan for what is held of an instrument before anything is drawn."""
    faults, stops = findings(rubric, known.held)
    return plan_work(rubric, case, (*stops, *faults), setting_known(rubric, case, known), shop)


def estimate(
    rubric: Rubric, case: Case, assessment: Assessment, shop: Shop, planned: Planned | None = None
) -> Estimate:
    """The whole estimate; an empty one, with every figure 0, where nothing is needed.

    `planned`: the plan for these findings, where it was made before; else it is made here.
    """
    if planned is None:
        found = (*assessment.disqualifying, *assessment.findings)
        planned = plan_work(rubric, case, found, setting_of(rubric, case, assessment), shop)
    planner, plan = planned.planner, planned.plan
    required, optional = planned.needed.must, planned.needed.may
    lines = plan_lines(planner, plan)
    minimum = minimum_line(lines, shop.minimum_charge, shop.currency)
    lines += minimum
    least = _least(lines, minimum, shop)
    paid = paid_by(plan.jobs, plan.shared)
    worlds = assessment.worlds
    seed = worlds.seed + STREAM
    chances = _possible(planner, paid, rubric, case, planned.needed.possible, assessment.worlds)
    extras = joined(planner, [*chances, *following(planner, paid, seed, worlds.count)], least)
    unlooked = _possible(planner, paid, rubric, case, planned.needed.unlooked, assessment.worlds)
    unseen = joined(planner, unlooked, least)
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
        uncured={**planned.needed.uncured, **reasons},
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
        when = IfFound(say=one.say, on_limit=one.on_limit)
        known = ByLook(ask=check.ask, minutes=check.minutes, on_limit=one.on_limit)
        yield Chance(found, one.probability, mask, when, known)


def _optional(planner: Planner, paid: Paid, needs: Iterable[Need]) -> tuple[PlanLine, ...]:
    """Lines for what is recommended: each the cheapest addition to what is planned, without pushing anything out.

    What would only be done to a better instrument is not offered, nor a bundle beside the work that it holds.
    """
    wanted: dict[str, list[Need]] = {}
    shared: list[str] = []
    units: dict[str, int] = {}
    brought: dict[str, str] = {}
    for need in filter(planner.suits, needs):
        more = cheapest_addition(planner, paid, need, replacing=False)
        if more is not None and _is_rival(planner, paid, more.jobs[0]):
            continue
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


def _is_rival(planner: Planner, paid: Paid, job: str) -> bool:
    """Whether a job is a bundle of which the order holds some already: what it spares, or what often follows."""
    bundle = planner.jobs[job]
    inside = {*bundle.makes_unnecessary, *(name for force in bundle.forces for name in forced_jobs(force))}
    return bundle.service and bool(inside & paid.jobs)


def _cured(planner: Planner, plan: Plan) -> Mapping[str, str]:
    """Which job of the plan cures which check's fault, the first where several do."""
    found: dict[str, str] = {}
    for job, needs in cures(planner, plan.jobs, plan.needs).items():
        for need in needs:
            found.setdefault(need.check, job)
    return found
