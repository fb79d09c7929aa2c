"""What each sum buys: the three levels of work, and the budget curve as a plot and as a list of steps."""

from collections.abc import Mapping
from typing import Any

from flask import Blueprint, render_template
from markupsafe import Markup

from ...figures.budget import budget_figure
from ...figures.svg import svg
from ...papers.sections.budget import budget_sentence, levels, step_words
from ..looking.pages import View, kept_or_404
from ..service import service
from .pictures import PHONE_MM, WIDE_MM

budget = Blueprint("budget", __name__)
NO_BUDGET = {"steps": (), "enough": None}  # evaluations finished before the curve was kept have none


def curve(snapshot: Mapping[str, Any]) -> Markup:
    """The budget curve as a plot, wide and narrow; empty where no work would raise the score."""
    found = snapshot.get("budget", NO_BUDGET)
    drawn = [budget_figure(found, snapshot["plan"]["currency"], width) for width in (WIDE_MM, PHONE_MM)]
    return Markup("").join(
        Markup(svg(one, f"rule {name}")) for one, name in zip(drawn, ("wide", "narrow"), strict=True) if one
    )


@budget.get("/evaluations/<identity>/budget")
def steps(identity: str) -> View:
    """The curve of a draft by what is typed now; of a finished evaluation, as it was frozen."""
    kept = kept_or_404(identity)
    snapshot = service().snapshot(kept)
    found, picture = snapshot.get("budget", NO_BUDGET), curve(snapshot)
    return render_template(
        "result/budget.html",
        kept=kept,
        steps=found["steps"],
        enough=found["enough"],
        sentence=budget_sentence(snapshot) if picture else "",
        levels=levels(snapshot),
        picture=picture,
        words=step_words,
        currency=snapshot["plan"]["currency"],
        kept_none="budget" not in snapshot,
    )
