"""What each sum buys: the three levels of work, and the budget curve as a plot and as a list of steps."""

from flask import Blueprint, render_template
from markupsafe import Markup

from ...figures.budget import budget_figure
from ...figures.svg import svg
from ...papers.sections.budget import budget_sentence, levels, step_words, steps_note
from ...result.model.result import Result
from ...result.model.work import Budget
from ...wording.answer.prices import budget_paid, is_taxed
from ..looking.pages import View, kept_or_404
from ..service import service
from .pictures import PHONE_MM, WIDE_MM

budget = Blueprint("budget", __name__)
NO_BUDGET = Budget(steps=(), enough=None)


def curve(result: Result) -> Markup:
    """The budget curve as a plot, wide and narrow; empty where no work would raise the score."""
    found = budget_paid(result) or NO_BUDGET
    drawn = [budget_figure(found, result.plan.currency, width) for width in (WIDE_MM, PHONE_MM)]
    return Markup("").join(
        Markup(svg(one, f"rule {name}")) for one, name in zip(drawn, ("wide", "narrow"), strict=True) if one
    )


@budget.get("/evaluations/<identity>/budget")
def steps(identity: str) -> View:
    """The curve of a draft by what is typed now; of a finished evaluation, as it was frozen."""
    kept = kept_or_404(identity)
    result = service().result(kept)
    found, picture = budget_paid(result) or NO_BUDGET, curve(result)
    return render_template(
        "result/budget.html",
        kept=kept,
        steps=found.steps,
        enough=found.enough,
        sentence=budget_sentence(result) if picture else "",
        levels=levels(result),
        picture=picture,
        words=step_words,
        note=steps_note(result),
        taxed=is_taxed(result),
        currency=result.plan.currency,
        kept_none=result.budget is None,
        no_score=result.score.expected is None,
    )
