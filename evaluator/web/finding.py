"""What was looked at, found again: on the front page what was broken off and what came last, all of it as a list, and
by the beginnings of words while they are typed.
"""

from collections.abc import Iterator, Sequence
from itertools import islice

from flask import Blueprint, abort, render_template, request

from ..store.evaluations import DRAFT, FINISHED, Kept, newest
from ..store.finding.listing import Wanted, from_address, in_address, listed, listed_as
from ..store.finding.search import found_by_words, place_from_address
from ..store.finding.words import EVALUATION
from ..store.workshop.customers import search
from .looking.pages import View, pages
from .looking.plan import Place, Plan, applying, place_in
from .people.doors import may, role_now
from .service import service

finding = Blueprint("finding", __name__)
MOST_TYPED = 200
STATES = {"": "All", DRAFT: "Drafts", FINISHED: "Finished"}
ORDERS = {"changed": "Last changed first", "title": "By name"}
FIRST = 20  # that the front page shows
MOST_GOING_ON = 3  # two violins in two shops, and one more; the others stand in the list below
FAMILY_ORDER = {"violin": 0, "viola": 1, "cello": 2, "bow": 3}


@pages.get("/")
def front() -> View:
    """Families to begin with, the visits that were broken off, and what was looked at last."""
    names = sorted(service().families(), key=lambda name: FAMILY_ORDER.get(name, 9))
    titles = [(name, service().rubric(name).title) for name in names]
    kept, more = listed(service().engine, count=FIRST)
    going_on = tuple(islice(_going_on(newest(service().engine, FIRST, DRAFT)), MOST_GOING_ON))
    return render_template("looking/front.html", families=titles, kept=kept, more=more, going_on=going_on)


def _going_on(kept: Sequence[Kept]) -> Iterator[tuple[Kept, Place]]:
    """The visits that were broken off with looks still to do, the last first, and the place in each."""
    for one in kept:
        plan = Plan.read(one.typed) if one.state == DRAFT else None
        if plan is not None:
            checks = applying(service().rubric(one.rubric), one, plan)
            place = place_in(checks, one.typed["answers"], plan.channel)
            if place.next:
                yield one, place


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
