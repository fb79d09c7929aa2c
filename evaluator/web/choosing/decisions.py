"""Pages that decide between ways: candidates side by side, and what a shop can give for an instrument.

A draft is read as it stands now, a finished evaluation by the figures that were frozen with it. Nothing is kept here:
what is asked stands in the address, so that a page can be sent on.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from flask import Blueprint, Response, redirect, render_template, request, url_for
from markupsafe import Markup
from werkzeug.wrappers import Response as AnyResponse

from ...basis.problem import Problem
from ...choosing.candidates import FEWEST, MOST
from ...choosing.entrants import Entrant
from ...choosing.offers import Asked, materials_seen
from ...choosing.told import ComparisonTold, SpanTold, TradeInTold
from ...choosing.trade_in import Answers, Materials, before_any_figure
from ...figures.money import cost_rule, offer_rule, scale_of
from ...figures.rules import score_rule
from ...figures.shapes import Figure
from ...figures.svg import svg
from ...store.evaluations import Kept, newest
from ...wording import decisions as decision_words
from ...wording.choosing.comparison import comparison_json, comparison_told
from ...wording.choosing.trade_in import trade_in_json
from ..api.problems import RefusedError, refused
from ..asked import Answers as Figures
from ..asked import Ask, answers_to
from ..looking.pages import View, kept_or_404
from ..result.house_style import headed_pdf
from ..service import service

decisions = Blueprint("decisions", __name__)

CARD_MM = 84.0
AMOUNTS = (
    Ask("ticket", "Marked at, when ready (may stay empty)", "", 1e9, optional=True),
    Ask("new_price", "Price of the next instrument (may stay empty)", "", 1e9, optional=True),
)
PROTECTED: Mapping[str, tuple[Materials, str]] = {
    "none": ("none", "No, nothing of the kind"),
    "documented": ("allowed", "Yes, with papers, and it may be dealt in here"),
    "unknown": ("unknown", "Not settled yet"),
    "forbidden": ("not_allowed", "Yes, and it may not be dealt in here"),
}


def drawn(figure: Figure) -> Markup:
    """A figure on a card; the writer of SVG escapes every text."""
    return Markup(svg(figure, "rule"))


def sentence_of(problem: Problem) -> str:
    """A mistake as a page says it: what it is about only where that is a name."""
    about = "" if problem.where in {"comparison", "trade-in"} else f"{problem.where}: "
    text = f"{about}{problem.what} {problem.what_to_do}".strip()
    return text[:1].upper() + text[1:]


# Candidates side by side


@decisions.get("/compare")
def compare() -> View:
    """The chosen evaluations side by side; without a choice, the list to choose from."""
    chosen = _chosen()
    if not chosen or "choose" in request.args:
        return _choice(chosen, [])
    if not FEWEST <= len(chosen) <= MOST:
        count = "one instrument" if len(chosen) == 1 else f"{len(chosen)} instruments"
        return _choice(chosen, [f"You chose {count}. Choose two to six."]), 422
    result = _comparison(chosen)
    if isinstance(result, tuple):
        return _choice(chosen, [sentence_of(problem) for problem in result]), 422
    return render_template(
        "choosing/compare.html",
        decision=result,
        cards=_cards(result, chosen),
        frozen=[one.title or "Without a name" for one in chosen if one.frozen is not None],
        said=decision_words,
        ids=[one.id for one in chosen],
        counts_more=_counts_more(),
    )


@decisions.get("/compare.pdf")
def compare_pdf() -> AnyResponse:
    """The comparison on one page of paper."""
    from ...papers.decision_story import comparison_paper

    chosen = _chosen()
    result = _comparison(chosen) if FEWEST <= len(chosen) <= MOST else ()
    if isinstance(result, tuple):
        return redirect(url_for("decisions.compare", id=[one.id for one in chosen]))
    return headed_pdf(comparison_paper(result, service().now()), "candidates.pdf")


@decisions.get("/compare.json")
def compare_json() -> Response | dict[str, object]:
    """The figures of the comparison as JSON, or what is wrong with the choice in the same form as for programs."""
    chosen = _chosen()
    if not FEWEST <= len(chosen) <= MOST:
        return refused(RefusedError("invalid", f"Chosen: {len(chosen)}. Compare two to six evaluations."))
    result = _comparison(chosen)
    return refused(RefusedError("invalid", problems=result)) if isinstance(result, tuple) else comparison_told(result)


def _chosen() -> list[Kept]:
    """The evaluations named in the address, each once, in its order."""
    return [kept_or_404(identity) for identity in dict.fromkeys(request.args.getlist("id")[:50])]


def _counts_more() -> bool:
    return request.args.get("set_up") != "once"


def _comparison(chosen: Sequence[Kept]) -> ComparisonTold | tuple[Problem, ...]:
    return comparison_json([_entrant(one) for one in chosen], service().shop, count_set_up_more=_counts_more())


def _entrant(one: Kept) -> Entrant:
    """A draft with the evaluation that its looks come from; a finished one by its frozen figures alone."""
    evaluation = None if one.frozen is not None else service().evaluation(one)
    return Entrant(one.title or "", service().result(one), service().rubric(one.rubric), evaluation)


def _choice(chosen: Sequence[Kept], wrong: Sequence[str]) -> str:
    kept = newest(service().engine)
    listed = {one.id for one in kept}
    kept = (*(one for one in chosen if one.id not in listed), *kept)
    return render_template("looking/choose.html", kept=kept, chosen={one.id for one in chosen}, wrong=wrong)


def _cards(result: ComparisonTold, chosen: Sequence[Kept]) -> list[dict[str, object]]:
    """The candidates with their figures, all costs on one scale, and the evaluation that each comes from."""
    rows = result.candidates
    scale = scale_of([one.cost_to_own_p80 for one in rows] + [one.asking for one in rows])
    return [
        {
            "row": row,
            "kept": chosen[row.place],
            "cost": drawn(cost_rule(row.asking, row.cost_to_own, row.cost_to_own_p80, scale, CARD_MM)),
            "score": drawn(score_rule(_triple(row.score), _triple(row.score_after_work), CARD_MM)),
        }
        for row in rows
    ]


def _triple(values: SpanTold) -> tuple[float | None, float, float]:
    return values.expected, values.low, values.high


# Trade-in


@dataclass(frozen=True, slots=True)
class Typed:
    """What stands in the form: the choices, and the amounts as typed, as read, and what is wrong with them."""

    protected: str
    owner: bool
    identity: bool
    amounts: Figures

    @property
    def wrong(self) -> Mapping[str, str]:
        return self.amounts.wrong

    @property
    def address(self) -> dict[str, str]:
        """The answers as they stand in an address."""
        found = {"protected": self.protected, **self.amounts.typed}
        found |= {"owner": "yes" if self.owner else "", "document": "yes" if self.identity else ""}
        return {name: value for name, value in found.items() if value}

    @property
    def asked(self) -> Asked:
        materials = PROTECTED[self.protected][0]
        given = self.amounts.values
        return Asked(Answers(materials, self.owner, self.identity), given.get("new_price", 0.0), given.get("ticket"))


def typed_trade_in(kept: Kept, given: Mapping[str, str]) -> Typed:
    """What the address or a form says; before anything is sent, what the evaluation itself says of the materials."""
    protected = given.get("protected", "")
    if protected not in PROTECTED:
        rubric = service().rubric(kept.rubric)
        seen = materials_seen(rubric, service().read(kept).case)
        protected = next(name for name, (materials, _) in PROTECTED.items() if materials == seen)
    amounts = answers_to(AMOUNTS, currency=service().result(kept).plan.currency, given=given)
    return Typed(protected, given.get("owner") == "yes", given.get("document") == "yes", amounts)


@decisions.get("/evaluations/<identity>/trade-in")
def trade_in(identity: str) -> View:
    """The questions first; once they are settled, the ways out side by side."""
    kept = kept_or_404(identity)
    typed = typed_trade_in(kept, request.args)
    sent = "protected" in request.args
    result = trade_in_json(service().result(kept), service().shop, typed.asked) if sent and not typed.wrong else ()
    unsettled = [sentence_of(problem) for problem in result] if isinstance(result, tuple) else []
    if typed.wrong:
        open_still = before_any_figure(typed.asked.answers) if sent else ()
        unsettled = [*(sentence_of(problem) for problem in open_still), *typed.wrong.values()]
    page = render_template(
        "choosing/trade_in.html",
        kept=kept,
        typed=typed,
        amounts=AMOUNTS,
        protected=PROTECTED,
        unsettled=unsettled,
        from_look=not sent and typed.protected != "unknown",
        decision=None if isinstance(result, tuple) else result,
        cards=[] if isinstance(result, tuple) else _offers(result),
        said=decision_words,
        inside=request.args.get("inside") == "yes",
    )
    return (page, 422) if typed.wrong else page


def _offers(result: TradeInTold) -> list[dict[str, object]]:
    offers = result.offers
    scale = scale_of([amount for offer in offers for amount in (offer.to_owner, offer.expected)])
    return [
        {"offer": offer, "figure": drawn(offer_rule(offer.to_owner, offer.expected, scale, CARD_MM))}
        for offer in offers
    ]
