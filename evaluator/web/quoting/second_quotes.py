"""More work than was agreed: chosen at the bench, and put to the customer in a second quote on a link of its own."""

from dataclasses import dataclass
from datetime import date

from flask import Blueprint, redirect, render_template, request, url_for

from ...basis import show
from ...basis.money import Money
from ...basis.problem import Problem
from ...estimate.price import for_size
from ...quoting.answers import shown_extra
from ...quoting.learning import OwnChance
from ...quoting.quote import QuoteExtra, Terms
from ...quoting.supplement import Addable, addable, make_supplement, offered_units
from ...rubric.rubric import Rubric
from ...store.quotes import KeptQuote, move
from ...store.workshop.drafts import keep_more
from ...wording.phrases import capital
from ...wording.quotes import named
from ..looking.pages import View, kept_or_404
from ..service import service
from .drafts import extras_recorded, jobs_recorded, learnt_rubric
from .family import first_of, held_of, joint_of, topped_up
from .quotes import quote_or_404, refused
from .view import told

second = Blueprint("second_quotes", __name__)
SKILLS = {"set_up": "Set-up", "repair": "Repair", "restoration": "Restoration"}


@dataclass(frozen=True, slots=True)
class Choice:
    """A job that could be added: what it adds in money, and what would show that it is needed, where that is known."""

    job: str
    say: str
    adds: Money
    when: str = ""


@second.get("/quotes/<identity>/more")
def choose(identity: str) -> View:
    """What could come on top, and every other job, each with what it would add to what is agreed."""
    kept = quote_or_404(identity)
    if kept.quote.belongs_to:
        return redirect(url_for("second_quotes.choose", identity=first_of(kept).id))
    if kept.quote.state not in ("agreed", "work_begun"):
        return redirect(url_for("quotes.quote", identity=identity))
    return _page(kept)


@second.post("/quotes/<identity>/more")
def make(identity: str) -> View:
    """The draft of a second quote for what was chosen."""
    kept, form, engine = first_of(quote_or_404(identity)), request.form, service().engine
    rubric, counts = _rubric(kept, form.get("own") == "yes")
    made = make_supplement(
        rubric,
        service().shop,
        kept.quote,
        held_of(kept),
        form.getlist("job"),
        date.fromisoformat(service().now()[:10]),
        form.get("found", "")[:400],
        begun=_begun(kept),
        topped_up=topped_up(kept),
        own_jobs=counts,
    )
    if isinstance(made, tuple):
        return (_page(kept, made), 422) if kept.chain else refused(kept, made)
    number = keep_more(engine, made, service().now())
    if isinstance(number, Problem):
        return _page(kept, (number,)), 409
    return redirect(url_for("quotes.quote", identity=number))


@second.post("/quotes/<identity>/withdraw")
def withdraw(identity: str) -> View:
    """Take back what nobody has answered yet; the link then says so."""
    kept = quote_or_404(identity)
    found = move(service().engine, identity, "withdrawn", service().now())
    if isinstance(found, Problem):
        return refused(kept, (found,))
    return redirect(url_for("quotes.quote", identity=identity))


def _page(kept: KeptQuote, wrong: tuple[Problem, ...] = ()) -> str:
    rubric, _ = _rubric(kept, False)
    shop, extras = service().shop, {one.job: one for one in kept.quote.extras}
    found = {one.job: one for one in addable(rubric, shop, held_of(kept), _begun(kept), offered_units(kept.quote))}
    came = extras_recorded()
    told_before = {job: _foreseen(one, came.get(job)) for job, one in extras.items()}
    told_before |= {
        line.job: "Offered before, and not agreed."
        for line in kept.quote.lines
        if not line.shared and line.job not in extras
    }
    terms = kept.quote.terms
    likely = [_choice(rubric, terms, found[job], when) for job, when in told_before.items() if job in found]
    others = {
        say: [
            _choice(rubric, terms, one)
            for job, one in found.items()
            if job not in told_before and rubric.jobs[job].skill == skill
        ]
        for skill, say in SKILLS.items()
    }
    return render_template(
        "quoting/more.html",
        kept=kept,
        quote=kept.quote,
        evaluation=kept_or_404(kept.evaluation),
        likely=likely,
        others={say: jobs for say, jobs in others.items() if jobs},
        chosen=request.form.getlist("job"),
        records=jobs_recorded(rubric),
        joint=joint_of(kept),
        agreed=kept.chain[-1],
        wrong=told(wrong),
        form=request.form,
    )


def _foreseen(extra: QuoteExtra, own: OwnChance | None) -> str:
    """When it comes, and how often it truly came: as told on the first quote, moved by own orders."""
    if own is None:
        return extra.when
    so_far = f"came in {own.came} of {own.orders} such {'order' if own.orders == 1 else 'orders'} done here"
    chance = extra.chance if extra.own_orders else own.blended(extra.chance)
    return f"{extra.when} {capital(show.chance(chance))}: it {so_far}."


def _choice(rubric: Rubric, terms: Terms, one: Addable, when: str = "") -> Choice:
    """A job with what it adds, as the customer will see its price."""
    instead = f"In the place of: {named(one.instead_of)}." if one.instead_of else ""
    return Choice(one.job, rubric.jobs[one.job].say, shown_extra(terms, one.adds), f"{when} {instead}".strip())


def _rubric(kept: KeptQuote, own: bool) -> tuple[Rubric, dict[str, int]]:
    before = kept_or_404(kept.evaluation)
    size = service().result(before).instrument.size
    rubric, counts = learnt_rubric(for_size(service().rubric(before.rubric), size), own)
    return rubric, dict(counts)


def _begun(kept: KeptQuote) -> set[str]:
    """Jobs with hours noted: what is done is not taken off again."""
    return {task.job for task in kept.work.tasks if task.hours is not None} if kept.work else set()
