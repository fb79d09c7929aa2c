"""The draft in the workshop's hands: every line's words, hours and prices, lines added and left out, and the way back.

What a step would take along is shown before it is done; nothing is forced, and the catalogue's figure stands beside.
"""

from dataclasses import dataclass, replace

from flask import Blueprint, redirect, render_template, request, url_for

from ...basis.money import Money
from ...basis.problem import Problem, problem
from ...basis.show import number
from ...basis.typed.hours import read_hours
from ...basis.typed.money import read_money
from ...basis.typed.numbers import read_whole
from ...estimate.planning.plan import Planner
from ...estimate.price import for_size, price_list
from ...quoting.answers import all_yes
from ...quoting.changes import MESSAGES, Change, falls_with, free_line, own_place
from ...quoting.lines import Added, catalogue_of, from_catalogue, with_units
from ...quoting.quote import Group, Listed, QuoteLine
from ...quoting.supplement import addable
from ...store.quotes import KeptQuote
from ...store.workshop.drafts import add_change, edited, take_back
from ...wording.quotes import GROUP_WORDS
from ..looking.pages import View, kept_or_404
from ..people.doors import name_now
from ..quoting.quotes import quote_or_404
from ..quoting.view import sheet, told
from ..service import service

editing = Blueprint("editing", __name__)
MOST_UNITS = 40
MOST_WORDS = 400
SKILLS = {"set_up": "Set-up", "repair": "Repair", "restoration": "Restoration"}


@dataclass(frozen=True, slots=True)
class Follows:
    """What a step would take along: what is left out or put in (`job`), and the lines that go with it."""

    job: str
    say: str
    falls: tuple[QuoteLine, ...] = ()
    stays_found: tuple[str, ...] = ()
    instead: tuple[tuple[str, str], ...] = ()


@editing.get("/quotes/<identity>/edit")
def page(identity: str) -> View:
    kept = quote_or_404(identity)
    if kept.quote.state != "draft":
        return redirect(url_for("quotes.quote", identity=identity))
    return _page(kept)


@editing.post("/quotes/<identity>/edit")
def change(identity: str) -> View:
    """One step: set, leave, add, free or undo."""
    kept, form, engine = quote_or_404(identity), request.form, service().engine
    seen = int(form.get("changes", "0")) if form.get("changes", "0").isdecimal() else 0
    if form.get("go") == "undo":
        done: KeptQuote | Problem = take_back(engine, identity, seen, service().now())
        return _after(kept, done)
    made = _STEPS.get(form.get("go", ""), _set)(kept)
    if isinstance(made, Follows):
        return _page(kept, follows=made)
    if isinstance(made, Problem):
        return _page(kept, (made,)), 422
    for one in made:
        signed = replace(one, by=name_now(), at=service().now())
        done = add_change(engine, identity, seen, signed, service().now())
        if isinstance(done, Problem):
            return _after(kept, done)
        seen += 1
    return _after(kept, None)


def _after(kept: KeptQuote, done: KeptQuote | Problem | None) -> View:
    if isinstance(done, Problem):
        return _page(quote_or_404(kept.id), (done,)), 409 if done.code in ("edit.meanwhile", "edit.late") else 422
    return redirect(url_for("editing.page", identity=kept.id))


def _set(kept: KeptQuote) -> list[Change] | Problem:
    """What differs of a line's words, hours, prices and place."""
    form, job = request.form, request.form.get("job", "")
    line = kept.quote.line(job)
    if line is None:
        return problem(MESSAGES, "edit.no_line", f"quote {kept.quote.number}")
    hours = _hours_typed(form.get("hours", ""), line)
    labour = _money_typed("labour", line.labour, "Work")
    parts = _money_typed("parts", line.parts, "Parts")
    units = _units_typed(form.get("units", ""), line.units)
    for one in (hours, labour, parts, units):
        if isinstance(one, Problem):
            return one
    assert not isinstance(hours, Problem) and not isinstance(labour, Problem)
    assert not isinstance(parts, Problem) and not isinstance(units, Problem)
    say, reason = form.get("say", line.say).strip()[:MOST_WORDS], form.get("reason", "").strip()[:MOST_WORDS]
    changes = []
    if units is not None and units != line.units and not line.free:
        made = with_units(_planner(kept), line, units)
        changes.append(Change("add", job, lines=(made,), alone=True))
    group = _group(form.get("group", line.group))
    values = (None if say == line.say else say, hours, labour, parts, None if group == line.group else group)
    if any(value is not None for value in values) or reason:
        new_say, new_hours, new_labour, new_parts, new_group = values
        changes.append(
            Change(
                "set", job, say=new_say, hours=new_hours, labour=new_labour, parts=new_parts, group=new_group,
                reason=reason or None,
            )
        )  # fmt: skip
    return changes or problem(MESSAGES, "edit.nothing", line.say)


def _leave(kept: KeptQuote) -> list[Change] | Problem | Follows:
    """The line left out, with what hangs on it or alone; first what that takes along, where it does."""
    form, job = request.form, request.form.get("job", "")
    line = kept.quote.line(job)
    if line is None:
        return problem(MESSAGES, "edit.no_line", f"quote {kept.quote.number}")
    how = form.get("how", "")
    falls = () if line.shared else falls_with(kept.quote, job)
    if not how and (falls or not form.get("reason", "").strip()):
        return Follows(job, line.say, falls, line.because, _instead(kept, line))
    reason = form.get("reason", "").strip()[:MOST_WORDS]
    return [Change("leave", job, reason=reason, alone=how == "alone")]


def _add(kept: KeptQuote) -> list[Change] | Problem | Follows:
    """A job of the catalogue; what cannot stay beside it is shown first, and goes only if that is confirmed."""
    form = request.form
    planner, job = _planner(kept), form.get("job", "")
    units = _units_typed(form.get("units", "1"), 0)
    if isinstance(units, Problem):
        return units
    if job not in planner.jobs:
        return problem(MESSAGES, "edit.no_line", f"quote {kept.quote.number}")
    line = kept.quote.line(job)
    if line is not None:
        return problem(MESSAGES, "edit.there", f"quote {kept.quote.number}", say=line.say)
    added: Added = from_catalogue(planner, kept.quote, job, units or 1, _group(form.get("group", "")))
    if added.instead_of and form.get("how") not in ("with", "alone"):
        return Follows(job, planner.jobs[job].say, added.instead_of)
    reason = form.get("reason", "").strip()[:MOST_WORDS]
    first = replace(added.lines[0], because=(reason,) if reason else ())
    changes = [Change("add", job, lines=(first, *added.lines[1:]), reason=reason or None)]
    if form.get("how") == "with":
        why = f"{planner.jobs[job].say} takes its place."
        changes += [Change("leave", one.job, reason=why, alone=True) for one in added.instead_of]
    return changes


def _free(kept: KeptQuote) -> list[Change] | Problem:
    """A line of the shop's own words and price."""
    form, currency = request.form, kept.quote.terms.currency
    say = form.get("say", "").strip()[:MOST_WORDS]
    typed = {name: form.get(name, "").strip() for name in ("labour", "parts", "hours")}
    if not say:
        return problem(MESSAGES, "edit.no_words", "A line of your own")
    if not typed["labour"] and not typed["parts"]:
        return problem(MESSAGES, "edit.no_price", say)
    nothing = read_money("0", currency)
    labour = read_money(typed["labour"], currency, "Work") if typed["labour"] else nothing
    parts = read_money(typed["parts"], currency, "Parts") if typed["parts"] else nothing
    hours = read_hours(typed["hours"], "Hours") if typed["hours"] else 0.0
    for one in (labour, parts, hours):
        if isinstance(one, Problem):
            return one
    assert not isinstance(labour, Problem) and not isinstance(parts, Problem) and not isinstance(hours, Problem)
    place = own_place(edited(service().engine, kept).changes)
    reason = form.get("reason", "").strip()[:MOST_WORDS]
    line = free_line(place, say, labour, parts, _group(form.get("group", "")), hours, reason)
    return [Change("add", line.job, lines=(line,))]


_STEPS = {"set": _set, "leave": _leave, "add": _add, "free": _free}


def _planner(kept: KeptQuote) -> Planner:
    before = kept_or_404(kept.evaluation)
    size = service().result(before).instrument.size
    return Planner(price_list(for_size(service().rubric(before.rubric), size), service().shop))


def _hours_typed(text: str, line: QuoteLine) -> float | Problem | None:
    """Hours that differ from the line's; None where none do."""
    if not text.strip() or text.strip() == number(line.hours_likely):
        return None
    return read_hours(text, line.say)


def _money_typed(name: str, now: Money, where: str) -> Money | Problem | None:
    text = request.form.get(name, "").strip()
    if not text or text == str(now.amount):
        return None
    found = read_money(text, now.currency, where)
    return None if found == now else found


def _units_typed(text: str, now: int) -> int | Problem | None:
    if not text.strip():
        return None
    found = read_whole(text, "How many", least=1, most=MOST_UNITS)
    return None if found == now else found


def _group(text: str) -> Group:
    return "rest" if text == "rest" else "recommended" if text == "recommended" else "required"


def _instead(kept: KeptQuote, line: QuoteLine) -> tuple[tuple[str, str], ...]:
    """(job, words) of the next-best way to the same end, where the result names one that is not on the draft."""
    plan = service().result(kept_or_404(kept.evaluation)).plan
    found = next((one for one in plan.lines if one.job == line.job), None)
    if found is None or found.next_best is None or kept.quote.line(found.next_best.job):
        return ()
    jobs = _planner(kept).jobs
    job = found.next_best.job
    return ((job, jobs[job].say),) if job in jobs else ()


def _page(kept: KeptQuote, wrong: tuple[Problem, ...] = (), follows: Follows | None = None) -> str:
    planner, quote = _planner(kept), kept.quote
    found = edited(service().engine, kept)
    listed: dict[str, Listed | None] = {
        line.job: line.listed or catalogue_of(planner, line) for line in quote.lines if not line.is_credit
    }
    adds = {one.job: one.adds for one in addable(planner.prices.rubric, service().shop, quote.lines)}
    catalogue = {
        say: [(job, planner.jobs[job].say, adds[job]) for job in adds if planner.jobs[job].skill == skill]
        for skill, say in SKILLS.items()
    }
    return render_template(
        "workshop/edit.html",
        kept=kept,
        quote=quote,
        evaluation=kept_or_404(kept.evaluation),
        sheet=sheet(quote, all_yes(quote)),
        listed=listed,
        several={job for job, one in planner.jobs.items() if one.further_unit is not None},
        catalogue=catalogue,
        base=found.base,
        changes=found.changes,
        groups=GROUP_WORDS,
        follows=follows,
        wrong=told(wrong),
        form=request.form,
    )
