"""The board: every order by where it stands, what runs out, what is promised for when, and whose service falls due.

The same days come as a calendar feed behind a private link, since a calendar cannot sign in.
"""

import secrets
from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date, timedelta

import segno
from flask import Blueprint, Response, abort, redirect, render_template, request, url_for

from ...basis.problem import Problem
from ...choosing.ownership import calendar_text
from ...quoting.quote import Quote
from ...store.evaluations import DRAFT, newest
from ...store.people import hashed
from ...store.quotes import KeptQuote, find_quote
from ...store.workshop.customers import Card, find_customer, find_instrument
from ...store.workshop.figures import choice_of, set_choice
from ...store.workshop.texts import waiting
from ...store.workshop.timeline import Marks, mark, mark_collected, marks_of, open_quotes, owners, served
from ..asked import day_typed
from ..looking.pages import View, kept_or_404
from ..people.doors import MISSES, is_miss, limiter
from ..quoting.family import first_of
from ..quoting.quotes import quote_or_404
from ..quoting.view import told
from ..result.house_style import pdf
from ..service import service
from .history import due_after, message_of

board = Blueprint("board", __name__)
feed = Blueprint("feed", __name__)
FEED = "calendar_feed"  # the hash of the token of the link
COLUMNS: Mapping[str, str] = {
    "asked": "Asked",
    "offered": "Offered",
    "agreed": "Agreed",
    "bench": "On the bench",
    "extra": "Extra asked",
    "ready": "Ready",
    "collected": "Collected",
}
SOON = timedelta(days=7)
ASKED_DAYS, COLLECTED_DAYS = 60, 30
SERVICE_SOON = timedelta(days=28)
FORGOTTEN = timedelta(days=3 * 365)  # who has not come back for so long goes elsewhere


@dataclass(frozen=True, slots=True)
class Slip:
    """One order on the board. `day` is what it is sorted by: ready by, or runs out; `late`: that day has passed."""

    title: str
    who: str
    more: str
    link: str
    day: date | None = None
    soon: bool = False
    late: bool = False
    urgent: bool = False
    asks: bool = False
    quote: str | None = None
    marks: Marks = field(default_factory=Marks)


@dataclass(frozen=True, slots=True)
class Due:
    """An instrument whose service falls due, with a reminder ready to send."""

    instrument: Card
    who: str
    on: date
    message: str


@board.get("/board")
def page() -> str:
    return _page()


@board.post("/quotes/<identity>/marks")
def marks(identity: str) -> View:
    """Say by when an order is to be ready and how urgent it is, or that it was collected."""
    kept, form = quote_or_404(identity), request.form
    if form.get("go") in ("collected", "not_collected"):
        at = service().now() if form["go"] == "collected" else None
        mark_collected(service().engine, kept.id, at)
        return redirect(url_for("board.page"))
    text = form.get("ready_by", "").strip()
    on = day_typed(text) if text else None
    if isinstance(on, Problem):
        return _page((on,)), 422
    mark(service().engine, kept.id, on.isoformat() if on else None, form.get("urgent") == "yes")
    return redirect(url_for("board.page"))


@board.get("/quotes/<identity>/tag.pdf")
def tag(identity: str) -> Response:
    """A tag for the instrument, with a square that opens its work order."""
    from ...papers.printing.pdf import PAPERS
    from ...papers.shop_story import tag_paper

    kept, size = first_of(quote_or_404(identity)), request.args.get("paper", "A4")
    if size not in PAPERS:
        abort(404)
    address = service().house.link(url_for("bench.work", identity=kept.id))
    squares = [[bool(square) for square in row] for row in segno.make(address, error="m").matrix]
    says = (
        [task.say for task in kept.work.tasks] if kept.work else [one.say for one in kept.quote.lines if not one.shared]
    )
    title = kept_or_404(kept.evaluation).title or "The instrument"
    ready_by = marks_of(service().engine).get(kept.id, Marks()).ready_by
    content = service().drawn(tag_paper(kept.quote.number, title, says, ready_by, squares), size)
    return pdf(content, f"tag-{kept.quote.number}.pdf")


@board.post("/board/feed")
def new_feed() -> View:
    """A new private link for calendars; the earlier one opens nothing any more."""
    token = secrets.token_urlsafe(18)
    set_choice(service().engine, FEED, hashed(token))
    return _page(link=service().house.link(url_for("feed.days", token=token))), 200


@feed.get("/c/<token>/days.ics")
@limiter.limit(MISSES, deduct_when=is_miss)
def days(token: str) -> Response:
    """What falls due, runs out or is promised, as a calendar; no name of a customer stands in it."""
    if not secrets.compare_digest(choice_of(service().engine, FEED) or "", hashed(token)):
        abort(404)
    dated = [
        (one.day, f"{COLUMNS[name]}: {one.title}") for name, slips in columns().items() for one in slips if one.day
    ]
    dated += [(one.on, f"Service: {one.instrument.name}") for one in dues(None)]
    stamp, parts = service().today(), []
    for on, title in sorted(dated):
        text = calendar_text((on,), title, stamp)
        parts.append(text[text.index("BEGIN:VEVENT") : text.index("END:VCALENDAR")].replace("UID:service", _uid(title)))
    whole = calendar_text((), "", stamp)
    content = whole.replace("END:VCALENDAR", f"{''.join(parts)}END:VCALENDAR")
    return Response(content, mimetype="text/calendar")


def _uid(title: str) -> str:
    return f"UID:{hashed(title)[:12]}"


def columns() -> dict[str, list[Slip]]:
    """Every order by its column, the most urgent first, then by day."""
    marked, owned = marks_of(service().engine), owners(service().engine)
    asking = waiting(service().engine)
    found: dict[str, list[Slip]] = {name: [] for name in COLUMNS}
    quoted: set[str] = set()
    family: dict[str, KeptQuote] = {}
    open_now = open_quotes(service().engine, _since())
    kept = [one for identity in open_now if (one := find_quote(service().engine, identity))]
    for one in kept:
        quoted.add(one.evaluation)
        family[one.quote.number] = one
    for one in kept:
        name = _column(one.quote, marked.get(one.id, Marks()))
        slip = _slip(one, marked.get(one.id, Marks()), owned, one.id in asking)
        if name and not (name == "collected" and _is_old(slip.marks)):
            found[name].append(slip)
    found["asked"] = _asked(quoted, owned)
    return {name: sorted(slips, key=_by_urgency) for name, slips in found.items()}


def _column(quote: Quote, marks: Marks) -> str | None:
    """The column of a quote; second quotes stand for themselves only while they wait."""
    if quote.belongs_to:
        return "extra" if quote.state == "offered" else None
    if quote.state == "done":
        return "collected" if marks.collected else "ready"
    return {"offered": "offered", "agreed": "agreed", "work_begun": "bench"}.get(quote.state)


def _slip(kept: KeptQuote, marks: Marks, owned: Mapping[str, str], asks: bool) -> Slip:
    quote, today = kept.quote, service().today()
    on = date.fromisoformat(marks.ready_by) if marks.ready_by else None
    if quote.state == "offered":
        on = quote.valid_until
    waits = quote.state != "done"
    more = f"Quote {quote.number}" + (f", {quote.about}" if quote.about else "")
    return Slip(
        title=kept_or_404(kept.evaluation).title or "Without a name",
        who=_who(kept.evaluation, owned) or (kept.chain[-1].by if kept.chain else ""),
        more=more,
        link=url_for("quotes.quote" if quote.state == "offered" else "bench.work", identity=kept.id),
        day=on if waits else None,
        soon=waits and on is not None and today <= on <= today + SOON,
        late=waits and on is not None and on < today,
        urgent=marks.urgent,
        asks=asks,
        quote=kept.id,
        marks=marks,
    )


def _asked(quoted: set[str], owned: Mapping[str, str]) -> list[Slip]:
    """Evaluations for work that nobody has made an offer of yet."""
    since = (service().today() - timedelta(days=ASKED_DAYS)).isoformat()
    return [
        Slip(
            title=one.title or "Without a name",
            who=_who(one.id, owned),
            more="Begun" if one.state == DRAFT else "Looked at, no quote offered",
            link=url_for("results.result", identity=one.id),
        )
        for one in newest(service().engine)
        if one.id not in quoted
        and not (one.made_from in quoted and "before" not in one.typed)  # a look after the work
        and one.changed[:10] >= since
        and (one.typed["start"].get("purpose") == "quote" or one.id in owned)
    ]


def _who(evaluation: str, owned: Mapping[str, str]) -> str:
    instrument = find_instrument(service().engine, owned.get(evaluation))
    owner = find_customer(service().engine, instrument.customer) if instrument else None
    return owner.name if owner else ""


def _since() -> str:
    """The day before which what was collected is gone from the board."""
    return (service().today() - timedelta(days=COLLECTED_DAYS)).isoformat()


def _is_old(marks: Marks) -> bool:
    return marks.collected is not None and marks.collected[:10] < _since()


def _by_urgency(slip: Slip) -> tuple[bool, date, str]:
    return not (slip.urgent or slip.asks), slip.day or date.max, slip.title


def dues(within: timedelta | None = SERVICE_SOON) -> list[Due]:
    """Instruments whose service falls due within a time, or at all, the earliest first."""
    found, today = [], service().today()
    for identity, done in served(service().engine, (today - FORGOTTEN).isoformat()):
        thing = find_instrument(service().engine, identity)
        on = due_after(thing, done) if thing else None
        if thing and on and (within is None or on <= today + within):
            owner = find_customer(service().engine, thing.customer)
            found.append(Due(thing, owner.name if owner else "", on, message_of(thing, owner)))
    return sorted(found, key=lambda one: one.on)


def _page(wrong: tuple[Problem, ...] = (), link: str = "") -> str:
    return render_template(
        "workshop/board.html",
        columns=columns(),
        names=COLUMNS,
        dues=dues(),
        wrong=told(wrong),
        link=link,
        today=service().today(),
    )
