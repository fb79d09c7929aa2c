"""Customers and their instruments: found again by any word, each instrument with all that was seen and done of it."""

from collections.abc import Mapping
from dataclasses import dataclass

from flask import Blueprint, Response, abort, redirect, render_template, request, url_for

from ...basis.problem import Problem
from ...basis.typed.hours import read_hours
from ...store.evaluations import create
from ...store.finding.listing import from_address, in_address
from ...store.keeping.person import handed_over
from ...store.people import note_deed
from ...store.workshop.customers import (
    CUSTOMER_FIELDS,
    INSTRUMENT_FIELDS,
    Card,
    add_customer,
    add_instrument,
    change_customer,
    change_instrument,
    erase_customer,
    find_customer,
    find_instrument,
    households,
    instruments_of,
    search,
)
from ...store.workshop.timeline import add_note, belongs_to, put_to
from ..asked import day_typed
from ..looking.pages import View, kept_or_404
from ..people.doors import name_now
from ..quoting.view import told
from ..service import service
from .history import due_on, entries, message_of, reading_changes

customers = Blueprint("customers", __name__)
MOST = 2_000
HOURS_TOLD = "Hours of playing a week"


@dataclass(frozen=True, slots=True)
class Field:
    """A field of a card: `rows` above 1 for text of several lines."""

    name: str
    label: str
    hint: str = ""
    rows: int = 1


PERSON = (
    Field("name", "Name"),
    Field("telephone", "Telephone", "Stays on this card; it is printed on no paper."),
    Field("email", "E-mail"),
    Field("address", "Address", "As it shall stand on a bill.", 3),
    Field("language", "Language"),
    Field("note", "Note for the workshop", "", 2),
)
THING = (
    Field("name", "What to call it", "Red violin of Anna's."),
    Field("family", "Violin, viola, cello or bow"),
    Field("size", "Size", "As 4/4, or 405 mm for a viola."),
    Field("label", "What its label says", "", 2),
    Field("serial", "Serial or stamp"),
    Field("maker", "Maker, as said", "Who says it, and where: a paper, the owner. It is no proof."),
    Field("measures", "Measures that stay", "Body 356 mm, string 328 mm.", 2),
    Field("hours_a_week", HOURS_TOLD, "Service falls due by it."),
    Field("note", "Note for the workshop", "", 2),
)


@customers.get("/customers")
def every() -> str:
    return _list_page()


@customers.post("/customers/new")
def new() -> View:
    """A new customer, with a first instrument if one is named."""
    made = add_customer(service().engine, _typed(CUSTOMER_FIELDS), service().now())
    if isinstance(made, Problem):
        return _list_page((made,)), 422
    return redirect(url_for("customers.customer", identity=made))


@customers.get("/customers/<identity>")
def customer(identity: str) -> str:
    return _customer_page(_customer_or_404(identity))


@customers.post("/customers/<identity>/change")
def change(identity: str) -> View:
    kept = _customer_or_404(identity)
    typed = _typed(CUSTOMER_FIELDS)
    found = change_customer(service().engine, identity, _was(CUSTOMER_FIELDS), typed, service().now())
    if isinstance(found, Problem):
        return _customer_page(_customer_or_404(identity), (found,), typed), 409 if _is_clash(found) else 422
    return redirect(url_for("customers.customer", identity=kept.id, saved="yes"))


@customers.get("/customers/<identity>/everything.zip")
def hand_over(identity: str) -> Response:
    """All that is kept of a customer, for whoever asks for their own data."""
    kept = _customer_or_404(identity)
    note_deed(service().engine, service().now(), name_now(), "handed over a customer's data", kept.id)
    content = handed_over(service().engine, service().photos_folder, kept.id)
    headers = {"Content-Disposition": f'attachment; filename="customer-{kept.id}.zip"'}
    return Response(content, mimetype="application/zip", headers=headers)


@customers.post("/customers/<identity>/erase")
def erase(identity: str) -> View:
    """Take out all that is known of a customer; refused while work is open."""
    kept = _customer_or_404(identity)
    wrong = erase_customer(service().engine, identity, service().now())
    if wrong is not None:
        return _customer_page(kept, (wrong,)), 409
    note_deed(service().engine, service().now(), name_now(), "erased a customer", identity)
    return redirect(url_for("customers.every"))


@customers.post("/customers/<identity>/instruments")
def new_instrument(identity: str) -> View:
    kept = _customer_or_404(identity)
    typed = _typed(INSTRUMENT_FIELDS)
    made = _hours_wrong(typed) or add_instrument(service().engine, kept.id, typed, service().now())
    if isinstance(made, Problem):
        return _customer_page(kept, (made,), {}, typed), 422
    return redirect(url_for("customers.instrument", identity=made))


@customers.get("/instruments/<identity>")
def instrument(identity: str) -> str:
    return _instrument_page(_instrument_or_404(identity))


@customers.post("/instruments/<identity>/change")
def change_it(identity: str) -> View:
    kept = _instrument_or_404(identity)
    typed = _typed(INSTRUMENT_FIELDS)
    wrong = _hours_wrong(typed)
    found = wrong or change_instrument(service().engine, identity, _was(INSTRUMENT_FIELDS), typed, service().now())
    if isinstance(found, Problem):
        return _instrument_page(_instrument_or_404(identity), (found,), typed), 409 if _is_clash(found) else 422
    return redirect(url_for("customers.instrument", identity=kept.id, saved="yes"))


@customers.post("/instruments/<identity>/notes")
def note(identity: str) -> View:
    """Note something of the instrument for a day."""
    kept, text = _instrument_or_404(identity), request.form.get("text", "").strip()
    on = day_typed(request.form.get("on", ""))
    if isinstance(on, Problem):
        return _instrument_page(kept, (on,)), 422
    if text:
        add_note(service().engine, kept.id, on.isoformat(), text, name_now())
    return redirect(url_for("customers.instrument", identity=kept.id))


@customers.post("/instruments/<identity>/look")
def look(identity: str) -> View:
    """Begin an evaluation of this instrument, with what its card says typed already."""
    kept = _instrument_or_404(identity)
    said = kept.record.get("family", "").strip().lower()
    family = said if said in service().families() else "violin"
    rubric = service().rubric(family)
    size = kept.record.get("size", "")
    start = {
        "title": kept.name,
        "size": size if size in rubric.sizes else rubric.default_size or rubric.sizes[0],
        "style": "classical",
        "tier": "student",
        "purpose": "quote",
        "looker": "luthier",
    }
    made = create(service().engine, family, {"start": start, "answers": {}}, service().now())
    put_to(service().engine, made, kept.id)
    return redirect(url_for("pages.change_start", identity=made))


@customers.get("/evaluations/<identity>/instrument")
def whose(identity: str) -> str:
    """Which instrument this evaluation is of: found by any word, or made new."""
    kept = kept_or_404(identity)
    words = request.args.get("q", "")
    return render_template(
        "workshop/whose.html",
        kept=kept,
        found=search(service().engine, words) if words.strip() else households(service().engine)[0],
        words=words,
        instrument=find_instrument(service().engine, belongs_to(service().engine, identity)),
    )


@customers.post("/evaluations/<identity>/instrument/put")
def put(identity: str) -> View:
    """Put the evaluation to an instrument, to a new one of a customer, or to none."""
    kept, form = kept_or_404(identity), request.form
    chosen = form.get("instrument", "") or None
    owner = find_customer(service().engine, form.get("customer", ""))
    if owner is not None:
        typed = {"name": kept.title or kept.rubric, "family": kept.rubric, "size": kept.typed["start"].get("size", "")}
        made = add_instrument(service().engine, owner.id, typed, service().now())
        chosen = made if isinstance(made, str) else None
    if not put_to(service().engine, identity, chosen):
        abort(404)
    if chosen:
        return redirect(url_for("customers.instrument", identity=chosen))
    return redirect(url_for("customers.whose", identity=identity))


def _customer_or_404(identity: str) -> Card:
    found = find_customer(service().engine, identity)
    if found is None:
        abort(404)
    return found


def _instrument_or_404(identity: str) -> Card:
    found = find_instrument(service().engine, identity)
    if found is None:
        abort(404)
    return found


def _typed(names: tuple[str, ...]) -> dict[str, str]:
    return {name: request.form.get(name, "").replace("\r\n", "\n")[:MOST] for name in names}


def _was(names: tuple[str, ...]) -> dict[str, str]:
    """What stood on the page before anything was typed."""
    return {name: request.form.get(f"was-{name}", "").replace("\r\n", "\n")[:MOST] for name in names}


def _is_clash(found: Problem) -> bool:
    return found.code == "customer.both"


def _hours_wrong(typed: Mapping[str, str]) -> Problem | None:
    text = typed["hours_a_week"].strip()
    found = read_hours(text, HOURS_TOLD, most=168) if text else None
    return found if isinstance(found, Problem) else None


def _list_page(wrong: tuple[Problem, ...] = ()) -> str:
    words, engine = request.args.get("q", ""), service().engine
    found, key = households(engine, from_address(request.args.get("after", "")))
    return render_template(
        "workshop/customers.html",
        found=search(engine, words) if words.strip() else found,
        more="" if words.strip() else in_address(key),
        words=words,
        fields=PERSON,
        form=request.form,
        wrong=told(wrong),
    )


def _customer_page(
    kept: Card,
    wrong: tuple[Problem, ...] = (),
    typed: Mapping[str, str] | None = None,
    thing: Mapping[str, str] | None = None,
) -> str:
    return render_template(
        "workshop/customer.html",
        kept=kept,
        instruments=instruments_of(service().engine, kept.id),
        fields=PERSON,
        things=THING,
        typed=typed or kept.record,
        thing=thing or {},
        wrong=told(wrong),
        saved=request.args.get("saved"),
    )


def _instrument_page(kept: Card, wrong: tuple[Problem, ...] = (), typed: Mapping[str, str] | None = None) -> str:
    owner = find_customer(service().engine, kept.customer)
    lines = entries(kept)
    return render_template(
        "workshop/instrument.html",
        kept=kept,
        owner=owner,
        fields=THING,
        typed=typed or kept.record,
        entries=lines,
        changes=reading_changes(kept),
        due=due_on(kept),
        message=message_of(kept, owner),
        wrong=told(wrong),
        saved=request.args.get("saved"),
        today=service().today().isoformat(),
    )
