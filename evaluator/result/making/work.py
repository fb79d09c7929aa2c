"""The plan of an estimate, its levels, its possible extras and the budget curve, as records of the result."""

from collections.abc import Iterable

from ...estimate import budget as curve
from ...estimate import model as estimated
from ...quoting import draft as billing
from ...rubric.rubric import Rubric
from ..evaluation import Evaluation
from ..model.work import (
    Ambition,
    Budget,
    BudgetStep,
    Extra,
    Invoice,
    Line,
    NamedJob,
    NextBest,
    NotLookedAt,
    PartUsed,
    Plan,
    WithExtras,
)


def plan(evaluation: Evaluation, bill: billing.Invoice | None) -> Plan:
    """The required work with its price."""
    work, jobs = evaluation.estimate, evaluation.rubric.jobs
    set_up = sum(line.cost.mean for line in work.lines if line.job in jobs and jobs[line.job].skill == "set_up")
    return Plan(
        lines=tuple(line_of(line, evaluation.rubric, bill) for line in work.lines),
        mean=round(work.mean, 2),
        p50=round(work.p50, 2),
        p80=round(work.p80, 2),
        hours_likely=round(work.hours_likely, 2),
        parts_likely=round(sum(part.likely for line in work.lines for part in line.parts), 2),
        set_up_mean=round(set_up, 2),
        currency=work.currency,
        invoice=_invoice(bill),
        proven_optimal=work.proven_optimal,
        may_save=round(work.may_save, 2),
    )


def line_of(line: estimated.PlanLine, rubric: Rubric, bill: billing.Invoice | None) -> Line:
    """A line of the plan, or one that is only recommended, with its price in money where there is an invoice."""
    price = None if bill is None else bill.price_of(line.job)
    return Line(
        job=line.job,
        say=line.say,
        shared=line.shared,
        because=line.because,
        cures=line.cures,
        forced_by=line.forced_by,
        forced_by_say=line.forced_by_say,
        units=line.units,
        parts=tuple(PartUsed(say=part.say, grade=part.grade, count=part.count) for part in line.parts),
        urgency=line.urgency,
        low=round(line.cost.low, 2),
        likely=round(line.cost.likely, 2),
        high=round(line.cost.high, 2),
        mean=round(line.cost.mean, 2),
        sd=round(line.cost.sd, 2),
        price=None if price is None else price.amount,
        plain=line.plain,
        hours_likely=round(line.hours_likely, 2),
        if_left=line.if_left,
        contact_first=line.contact_first,
        cautions=line.cautions,
        next_best=_next_best(line.next_best, rubric),
    )


def _next_best(other: estimated.Alternative | None, rubric: Rubric) -> NextBest | None:
    if other is None:
        return None
    return NextBest(job=other.job, say=rubric.jobs[other.job].say, price_difference=round(other.price_difference, 2))


def _invoice(bill: billing.Invoice | None) -> Invoice | None:
    if bill is None:
        return None
    return Invoice(
        labour=bill.sums.labour.amount,
        parts=bill.sums.parts.amount,
        minimum=bill.sums.minimum.amount,
        labour_tax=bill.sums.labour_tax.amount,
        parts_tax=bill.sums.parts_tax.amount,
        rounding=bill.sums.rounding.amount,
        total=bill.sums.total.amount,
        up_to=bill.sums.up_to.amount,
        labour_tax_share=bill.terms.labour_tax,
        parts_tax_share=bill.terms.parts_tax,
        prices=bill.terms.prices,
    )


def extra_of(extra: estimated.PossibleExtra) -> Extra:
    return Extra(
        job=extra.job,
        say=extra.say,
        chance=round(extra.chance, 4),
        when=extra.when,
        known=extra.known,
        low=round(extra.cost.low, 2),
        likely=round(extra.cost.likely, 2),
        high=round(extra.cost.high, 2),
        mean=round(extra.cost.mean, 2),
        sd=round(extra.cost.sd, 2),
    )


def ambition_of(one: estimated.Ambition, rubric: Rubric) -> Ambition:
    return Ambition(
        name=one.name,
        jobs=_named(one.jobs, rubric),
        low=round(one.low, 2),
        mean=round(one.mean, 2),
        p80=round(one.p80, 2),
        high=round(one.high, 2),
    )


def not_looked_at(work: estimated.Estimate) -> NotLookedAt:
    return NotLookedAt(mean=round(work.unseen_mean, 2), extras=tuple(map(extra_of, work.unseen_extras)))


def with_extras(work: estimated.Estimate) -> WithExtras:
    return WithExtras(mean=round(work.with_extras_mean, 2), p80=round(work.with_extras_p80, 2))


def budget(evaluation: Evaluation) -> Budget:
    """The budget curve, with the step that is enough; no steps where too little was seen for a score."""
    rubric = evaluation.rubric
    if not evaluation.assessment.enough:
        return Budget(steps=(), enough=None)
    steps = curve.budget_curve(rubric, evaluation.case, evaluation.assessment, evaluation.shop)
    enough = curve.worthwhile(steps)
    return Budget(
        steps=tuple(
            BudgetStep(
                cost=round(step.cost, 2),
                score=round(step.score, 2),
                adds=_named(step.adds, rubric),
                drops=_named(step.drops, rubric),
            )
            for step in steps
        ),
        enough=None if enough is None else steps.index(enough),
    )


def _named(jobs: Iterable[str], rubric: Rubric) -> tuple[NamedJob, ...]:
    return tuple(NamedJob(job=job, say=rubric.jobs[job].say) for job in jobs)
