"""The sections behind the first screen of a result, each with an address of its own: the page of the result fetches one
when it is opened, and without JavaScript its line there is a plain link to it. Beside them the page of the budget: what
each sum buys.
"""

from collections.abc import Mapping

from flask import Blueprint, abort, render_template
from markupsafe import Markup

from ...figures.money import budget_figure
from ...figures.readings import standard_words
from ...figures.svg import svg
from ...papers.sections.budget import budget_sentence, levels, step_words, steps_note
from ...papers.sections.costs import before_tax, half_of, numbers_of, price_of, span_of, sums_of, times
from ...result.model.result import Result
from ...result.model.work import Budget
from ...store.evaluations import DRAFT, Kept
from ...wording.answer import points, purchase
from ...wording.answer.folds import TITLES, Fold, folds
from ...wording.answer.prices import budget_paid, is_taxed, shown_extra
from ...wording.looks import together_lines
from ..looking.pages import View, kept_or_404
from ..service import service
from .findings import found_groups, good_seen, readings_in_two, stops
from .pictures import PHONE_MM, WIDE_MM

sections = Blueprint("sections", __name__)
budget = Blueprint("budget", __name__)
NO_BUDGET = Budget(steps=(), enough=None)


def folds_of(kept: Kept, result: Result) -> tuple[Fold, ...]:
    """The sections that this result has, in order."""
    uncounted = len(wrong_of(kept)) + len(result.set_aside)
    good = len(good_seen(result, service().rubric(kept.rubric)))
    return folds(result, draft=kept.state == DRAFT, uncounted=uncounted, good=good)


def wrong_of(kept: Kept) -> Mapping[str, object]:
    """The answers of a draft that cannot be read, by check."""
    return service().read(kept).wrong if kept.state == DRAFT else {}


@sections.get("/evaluations/<identity>/result/<section>")
def section(identity: str, section: str) -> View:
    """One section: of a draft by what is typed now; of a finished evaluation, as it was frozen."""
    kept = kept_or_404(identity)
    if section not in TITLES:
        abort(404)
    found = service().shown(kept)
    there = folds_of(kept, found)
    names = [one.name for one in there]
    place = names.index(section) + 1 if section in names else len(there)
    return render_template(
        "result/section.html",
        title=TITLES[section],
        body=f"result/sections/{section if section in names else 'nothing'}.html",
        behind=there[place] if place < len(there) else None,
        **_told(kept, found),
    )


@sections.get("/evaluations/<identity>/result/why/<part>")
def trails(identity: str, part: str) -> View:
    """From what was seen of one part to the score, check by check."""
    kept = kept_or_404(identity)
    found = service().shown(kept)
    here = next((one for one in found.parts if one.part == part), None)
    if here is None:
        abort(404)
    checks = [check for check in found.checks if check.part == part and check.because]
    return render_template(
        "result/section.html",
        title=f"Why these figures: {here.say}",
        body=f"result/sections/{'trails' if checks else 'nothing'}.html",
        trails=checks,
        behind=Fold("why", TITLES["why"], ""),
        **_told(kept, found),
    )


def _told(kept: Kept, result: Result) -> dict[str, object]:
    """What the templates of the sections tell, each its own part of it."""
    rubric = service().rubric(kept.rubric)
    doubtful, good = readings_in_two(result)
    seen = {check.part for check in result.checks if check.because}
    return {
        "kept": kept,
        "result": result,
        "checks": rubric.checks,
        "pages": {name: rubric.page_of(check) for name, check in rubric.checks.items()},
        "wrong": wrong_of(kept),
        "groups": found_groups(result),
        "stops": stops(result),
        "numbers": numbers_of(result),
        "doubtful": doubtful,
        "good": good,
        "good_seen": good_seen(result, rubric),
        "seen_parts": [part for part in result.parts if part.part in seen],
        "together": together_lines(result),
        "curve": curve,
        "points": points,
        "purchase": purchase,
        "budget_sentence": budget_sentence,
        "price_of": price_of,
        "span_of": span_of,
        "shown_extra": shown_extra,
        "before_tax": before_tax,
        "sums_of": sums_of,
        "half_of": half_of,
        "times": times,
        "standard_words": standard_words,
    }


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
