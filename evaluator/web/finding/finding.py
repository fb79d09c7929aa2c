"""All that was looked at as a list, and everything found again by the beginnings of words, while they are typed."""

from flask import Blueprint, abort, render_template, request

from ...store.evaluations import DRAFT, FINISHED
from ...store.finding.listing import Wanted, listed, listed_as
from ...store.finding.pages import from_address, in_address
from ...store.finding.search import found_by_words, place_from_address
from ...store.finding.words import EVALUATION
from ...store.workshop.customers import search
from ..people.doors import may, role_now
from ..service import service

finding = Blueprint("finding", __name__)
MOST_TYPED = 200
STATES = {"": "All", DRAFT: "Drafts", FINISHED: "Finished"}
ORDERS = {"changed": "Last changed first", "title": "By name"}


@finding.get("/evaluations")
def every() -> str:
    """Every evaluation, a page at a time: of one family or state, by its last change or its name."""
    given = {name: request.args.get(name, "") for name in ("family", "state", "order")}
    families = service().families()
    if given["family"] not in ("", *families) or given["state"] not in STATES or given["order"] not in ("", *ORDERS):
        abort(404)
    wanted = Wanted(given["family"], given["state"], "title" if given["order"] == "title" else "changed")
    kept, key = listed(service().engine, wanted, from_address(request.args.get("after", "")))
    return render_template(
        "finding/every.html",
        kept=kept,
        wanted=wanted,
        families=[("", "Every family"), *((name, name.capitalize()) for name in families)],
        states=STATES,
        orders=ORDERS,
        more=in_address(key),
        first="after" not in request.args,
    )


@finding.get("/find")
def found() -> str:
    """Evaluations by their names, and customers with their instruments, labels and serials, for who may see them."""
    typed, engine = request.args.get("q", "")[:MOST_TYPED], service().engine
    after = place_from_address(request.args.get("after", ""))
    page = found_by_words(engine, EVALUATION, typed, after)
    role = role_now()
    cards = search(engine, typed) if role and may(role, "customers.every") and after is None else ()
    return render_template(
        "finding/found.html", typed=typed, kept=listed_as(engine, page.ids), cards=cards, more=in_address(page.key)
    )
