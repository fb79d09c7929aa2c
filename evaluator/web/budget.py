"""What each sum buys: the budget curve of an evaluation, as a plot and as a list of steps."""

from flask import Blueprint, render_template
from markupsafe import Markup

from ..estimate.budget import budget_curve
from ..evaluation import evaluate
from ..report.budget_figure import budget_figure
from ..report.svg import svg
from .pages import View, kept_or_404
from .pictures import PHONE_MM, WIDE_MM
from .service import case_of, service

budget = Blueprint("budget", __name__)


@budget.get("/evaluations/<identity>/budget")
def steps(identity: str) -> View:
    """The curve by the prices of now; a finished evaluation's own figures stay on its result."""
    kept = kept_or_404(identity)
    rubric, shop = service().rubric(kept.rubric), service().shop
    case, _ = case_of(rubric, kept.typed)
    found = budget_curve(rubric, case, evaluate(rubric, case, shop).assessment, shop)
    drawn = [budget_figure(found, shop.currency, width) for width in (WIDE_MM, PHONE_MM)]
    picture = Markup("").join(
        Markup(svg(one, f"rule {name}")) for one, name in zip(drawn, ("wide", "narrow"), strict=True) if one
    )
    return render_template(
        "budget.html", kept=kept, steps=found, picture=picture, jobs=rubric.jobs, currency=shop.currency
    )
