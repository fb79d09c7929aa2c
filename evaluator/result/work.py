"""The work of a result as plain JSON values: plan, levels of ambition, possible extras, and the budget curve."""

from collections.abc import Iterable
from typing import Any

from ..assessment.model import Assessment
from ..assessment.reasons.words import title_of
from ..estimate.budget import Step, budget_curve, worthwhile
from ..estimate.model import Ambition, Cost, Estimate, PlanLine, PossibleExtra
from ..quoting.invoice import Invoice
from ..rubric.rubric import Rubric
from .evaluation import Evaluation


def _cost(cost: Cost) -> dict[str, float]:
    return {name: round(getattr(cost, name), 2) for name in ("low", "likely", "high", "mean", "sd")}


def _because(line: PlanLine, rubric: Rubric, found: Assessment) -> list[str]:
    """What the line cures, each readable by itself; as the estimate words it where no finding has the check's id."""
    says = {one.check: one.say for one in (*found.disqualifying, *found.findings) if one.level != "possible"}
    titles = [title_of(rubric.checks[name], says[name]) for name in line.cures if name in says]
    return titles or list(line.because)


def _line(line: PlanLine, rubric: Rubric, found: Assessment, bill: Invoice | None) -> dict[str, Any]:
    price = bill and bill.prices.get(line.job, bill.sums.minimum)
    return {
        "job": line.job,
        "say": line.say,
        "shared": line.shared,
        "because": _because(line, rubric, found),
        "cures": list(line.cures),
        "forced_by": line.forced_by,
        "forced_by_say": line.forced_by_say,
        "units": line.units,
        "parts": [{"say": part.say, "grade": part.grade, "count": part.count} for part in line.parts],
        "urgency": line.urgency,
        **_cost(line.cost),
        "price": price and str(price.amount),
        "plain": line.plain,
        "hours_likely": round(line.hours_likely, 2),
        "if_left": line.if_left,
        "contact_first": line.contact_first,
        "cautions": list(line.cautions),
        "next_best": line.next_best
        and {
            "job": line.next_best.job,
            "say": rubric.jobs[line.next_best.job].say,
            "price_difference": round(line.next_best.price_difference, 2),
        },
    }


def _extra(extra: PossibleExtra) -> dict[str, Any]:
    return {
        "job": extra.job,
        "say": extra.say,
        "chance": round(extra.chance, 4),
        "when": extra.when,
        "known": extra.known,
        **_cost(extra.cost),
    }


def _ambition(ambition: Ambition, rubric: Rubric) -> dict[str, Any]:
    return {
        "name": ambition.name,
        "jobs": _named(ambition.jobs, rubric),
        **{name: round(getattr(ambition, name), 2) for name in ("low", "mean", "p80", "high")},
    }


def _named(jobs: Iterable[str], rubric: Rubric) -> list[dict[str, str]]:
    return [{"job": job, "say": rubric.jobs[job].say} for job in jobs]


def budget(evaluation: Evaluation) -> dict[str, Any]:
    """The budget curve; `enough` is the number of the first step that brings two thirds of what work can."""
    rubric = evaluation.rubric
    steps = budget_curve(rubric, evaluation.case, evaluation.assessment, evaluation.shop)
    enough = worthwhile(steps)
    return {
        "steps": [_step(step, rubric) for step in steps],
        "enough": None if enough is None else steps.index(enough),
    }


def _step(step: Step, rubric: Rubric) -> dict[str, Any]:
    return {
        "cost": round(step.cost, 2),
        "score": round(step.score, 2),
        "adds": _named(step.adds, rubric),
        "drops": _named(step.drops, rubric),
    }


def _set_up(estimate: Estimate, rubric: Rubric) -> float:
    """What the plan spends on set-up, as against repair and restoration; shared labour left out."""
    jobs = rubric.jobs
    return sum(line.cost.mean for line in estimate.lines if line.job in jobs and jobs[line.job].skill == "set_up")


def _invoice(bill: Invoice | None) -> dict[str, Any] | None:
    """The sums of the required lines as an invoice, to the cent and as text; they add up to `total`."""
    if bill is None:
        return None
    names = ("labour", "parts", "minimum", "labour_tax", "parts_tax", "rounding", "total", "up_to")
    sums = {name: str(getattr(bill.sums, name).amount) for name in names}
    return {**sums, "labour_tax_share": bill.terms.labour_tax, "parts_tax_share": bill.terms.parts_tax}


def work(estimate: Estimate, rubric: Rubric, found: Assessment, bill: Invoice | None) -> dict[str, Any]:
    """Plan, what is recommended besides, the three levels, what may come on top, and what no work cures."""
    return {
        "plan": {
            "lines": [_line(line, rubric, found, bill) for line in estimate.lines],
            "mean": round(estimate.mean, 2),
            "p50": round(estimate.p50, 2),
            "p80": round(estimate.p80, 2),
            "hours_likely": round(estimate.hours_likely, 2),
            "parts_likely": round(sum(part.likely for line in estimate.lines for part in line.parts), 2),
            "set_up_mean": round(_set_up(estimate, rubric), 2),
            "currency": estimate.currency,
            "invoice": _invoice(bill),
            "proven_optimal": estimate.proven_optimal,
            "may_save": round(estimate.may_save, 2),
        },
        "ambitions": [_ambition(one, rubric) for one in estimate.ambitions],
        "optional": [_line(line, rubric, found, bill) for line in estimate.optional],
        "possible_extras": [_extra(extra) for extra in estimate.possible_extras],
        "not_looked_at": {
            "mean": round(estimate.unseen_mean, 2),
            "extras": [_extra(extra) for extra in estimate.unseen_extras],
        },
        "with_possible_extras": {
            "mean": round(estimate.with_extras_mean, 2),
            "p80": round(estimate.with_extras_p80, 2),
        },
        "uncured": dict(estimate.uncured),
    }
