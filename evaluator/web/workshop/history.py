"""What was ever seen and done of an instrument, what its readings did since, and when its service falls due."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, timedelta

from flask import url_for

from ...basis.problem import Problem
from ...basis.show import day, figure
from ...basis.typed.hours import read_hours
from ...choosing.ownership import service_dates
from ...quoting.work_order import next_service
from ...result.model.result import Result
from ...store.evaluations import DRAFT, Kept, find
from ...store.quotes import KeptQuote, quotes_of
from ...store.workshop.bills import bills_of
from ...store.workshop.customers import Card, find_instrument
from ...store.workshop.timeline import belongs_to, looks_at, notes_of
from ...wording.bills import title_of
from ...wording.quotes import cents, state_sentence
from ...wording.words import subject
from ..service import service

WEEKS = 52.0


@dataclass(frozen=True, slots=True)
class Entry:
    """One line of a timeline: its day (ISO), what happened, a line more, and where to look."""

    on: str
    what: str
    more: str
    link: str | None = None


@dataclass(frozen=True, slots=True)
class Changed:
    """A reading that is not what it was: 'Action: 4.1 mm on 3 March 2025, now 4.7 mm: up 0.6 mm in 12 months'."""

    subject: str
    then: str
    now: str
    by: str


def entries(kept: Card) -> tuple[Entry, ...]:
    """The whole timeline, the newest first."""
    found = [Entry(kept.made[:10], "The card was made", "")]
    for one in looks_at(service().engine, kept.id):
        found += _of_look(one)
    found += [
        Entry(one.on, one.text, f"Noted by {one.by}" if one.by else "") for one in notes_of(service().engine, kept.id)
    ]
    found.reverse()  # of one day, what came last stands first
    return tuple(sorted(found, key=lambda entry: entry.on, reverse=True))


def _of_look(one: Kept) -> Iterator[Entry]:
    """An evaluation with its quotes, their work and bills."""
    draft = one.state == DRAFT
    answers = len(one.typed["answers"])
    said = f"{answers} {'answer' if answers == 1 else 'answers'}{', not finished' if draft else ''}"
    looked = url_for("results.result", identity=one.id)
    yield Entry((one.created if draft else one.changed)[:10], f"Looked at: {one.title or one.rubric}", said, looked)
    for quote in quotes_of(service().engine, one.id):
        yield from _of_quote(quote)


def _of_quote(kept: KeptQuote) -> Iterator[Entry]:
    link = url_for("quotes.quote", identity=kept.id)
    at = kept.changed[:10] if kept.quote.state == "done" else kept.made[:10]
    agreed = f"{cents(kept.chain[-1].total)} agreed by {kept.chain[-1].by}. " if kept.chain else ""
    yield Entry(at, f"Quote {kept.quote.number}", f"{agreed}{state_sentence(kept.quote)}", link)
    for one in bills_of(service().engine, kept.id):
        said = f"{title_of(one.bill)}, {cents(one.bill.total)}"
        yield Entry(one.bill.on.isoformat(), said, "", url_for("bills.bill", identity=one.id))


def results_of(kept: Card) -> list[tuple[str, Result]]:
    """(day, result) of every look, the oldest first; of a draft as it stands."""
    found = []
    for one in reversed(looks_at(service().engine, kept.id)):
        whole = find(service().engine, one.id)
        if whole is not None and whole.typed["answers"]:
            found.append((one.created[:10], service().shown(whole)))
    return found


def reading_changes(kept: Card) -> tuple[Changed, ...]:
    """What each reading that was taken more than once did from its first to its last."""
    found = results_of(kept)
    return changes_between(found[0], found[-1]) if len(found) > 1 else ()


def changes_between(first: tuple[str, Result], last: tuple[str, Result]) -> tuple[Changed, ...]:
    """The readings of both that differ, in the order of the later one."""
    (then_on, before), (now_on, after) = first, last
    rows = []
    for name, now in after.conformity.items():
        then = before.conformity.get(name)
        if then is None or then.unit != now.unit or figure(then.value, now.unit) == figure(now.value, now.unit):
            continue
        moved = now.value - then.value
        by = f"{'up' if moved > 0 else 'down'} {figure(abs(moved), now.unit)} {_in(then_on, now_on)}"
        was = f"{figure(then.value, then.unit)} on {day(then_on)}"
        rows.append(Changed(subject(now), was, figure(now.value, now.unit), by))
    return tuple(rows)


def _in(then: str, now: str) -> str:
    """'in 12 months', 'in 9 days'."""
    days = (date.fromisoformat(now) - date.fromisoformat(then)).days
    months = round(days / 30.44)
    return f"in {months} months" if months > 1 else f"in {days} {'day' if days == 1 else 'days'}"


def due_on(kept: Card) -> date | None:
    """When the next service falls due, by hours of playing; None before any work was done here."""
    done = [
        quote.changed[:10]
        for look in looks_at(service().engine, kept.id)
        for quote in quotes_of(service().engine, look.id)
        if quote.quote.state == "done"
    ]
    return due_after(kept, max(done)) if done else None


def due_after(kept: Card, done: str) -> date:
    """When the next service falls due after work was done (an ISO day)."""
    hours = read_hours(kept.record.get("hours_a_week", "") or "0", most=168)
    a_year = 0.0 if isinstance(hours, Problem) else hours * WEEKS
    return service_dates(date.fromisoformat(done), a_year, service().shop, 1)[0]


def message_of(kept: Card, owner: Card | None) -> str:
    """A reminder ready to send; empty before any service is due within four weeks."""
    due = due_on(kept)
    if due is None or due > service().today() + timedelta(days=28):
        return ""
    dear = f"Dear {owner.name}" if owner else "Good day"
    return (
        f"{dear}, {kept.name} is due to be looked over by {day(due.isoformat())}: bridge, soundpost, pegs, seams and "
        f"strings. Shall we find a day? {service().shop.shop if not service().shop.is_default else ''}"
    ).strip()


def service_on(kept: KeptQuote) -> date:
    """When the next service falls due after the work of a quote: by the player's hours where the card says them."""
    engine, done = service().engine, kept.changed[:10]
    instrument = find_instrument(engine, belongs_to(engine, kept.evaluation))
    if instrument is not None:
        return due_after(instrument, done)
    return next_service(date.fromisoformat(done), service().shop.service_every_months)
