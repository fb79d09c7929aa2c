"""What own records teach beside hours and extras: how long an instrument stands, and what a look is worth.

Each is shown with what the lists say, the own count and the blend; nothing counts before it is switched on by hand: the
months by taking them into the own figures, the looks as an overlay among the own opinions.
"""

from dataclasses import dataclass

from flask import Blueprint, redirect, render_template, request, url_for

from ...basis.record import as_object
from ...papers.before_after import to_look_at
from ...quoting.learning import mean_of
from ...store.desk.offers import all_stock
from ...store.desk.year import finished_again
from ...store.evaluations import Kept, find
from ...store.quotes import quotes_of
from ...wording.phrases import capital
from ...yearly.learnt import Look, Selling, Worth, by_check, by_kind, looks_again, overlay, selling
from ..looking.pages import View
from ..service import service
from ..workshop.again import CONFIRMED
from ..workshop.my_shop import keep_figures, own_figures

learnt = Blueprint("learnt", __name__)
CHANGED = "Somebody saved the shop's figures meanwhile. Look at the months again, then take them over."
SAYS = {"student": "A student", "teacher": "A teacher", "luthier": "A luthier"}
HOW = {"in_person": "in the hand", "photos": "in photographs", "seller_statement": "by what was said"}
DIGITS = 2


@dataclass(frozen=True, slots=True)
class Family:
    """What looks at one family were worth, and the overlay that says so."""

    name: str
    looks: tuple[Look, ...]
    overlay: str


@learnt.get("/learnt")
def page() -> View:
    return _page()


@learnt.post("/learnt")
def adopt() -> View:
    """Take the months of the ticked classes into the shop's figures; what else they hold stays as it is."""
    version, data = own_figures()
    if request.form.get("version") != str(version):
        return _page(CHANGED), 409
    taken = {one.making: one for one in _selling() if one.making in request.form.getlist("take") and one.learnt.count}
    if not taken:
        return _page("Tick the classes whose months you agree with."), 422
    guide = as_object(data.get("guide") or {})
    months = dict(as_object(guide.get("months_to_sell") or {}))
    for making, one in taken.items():
        blend = one.learnt.blend
        months[making] = {
            "low": round(blend.low, DIGITS), "likely": round(blend.likely, DIGITS), "high": round(blend.high, DIGITS),
        }  # fmt: skip
    wrong = keep_figures({**data, "guide": {**guide, "months_to_sell": months}}, version, "months from own sales")
    if wrong is not None:
        return _page(next(iter(wrong.values()))), 422
    return redirect(url_for("learnt.page"))


def _page(told: str = "") -> str:
    families = _families()
    rubrics = map(service().rubric, service().families())
    classes = {name: one.say for rubric in rubrics for name, one in rubric.classes.items()}
    looks = [look for one in families for look in one.looks]
    return render_template(
        "desk/learnt.html",
        selling=_selling(),
        mean=mean_of,
        classes=classes,
        kinds=[(f"{SAYS[looker]} {HOW[channel]}", worth) for (looker, channel), worth in by_kind(looks).items()],
        families=[(one, _rows(one)) for one in families if one.looks],
        version=own_figures()[0],
        told=told,
    )


def _rows(family: Family) -> list[tuple[str, str, Worth]]:
    """(question, seen how, what it was worth) for each check that was looked at again."""
    checks = service().rubric(family.name).checks
    found = by_check(family.looks).items()
    return [(capital(checks[check].term or checks[check].ask), HOW[how], one) for (check, how), one in found]


def _selling() -> tuple[Selling, ...]:
    """How long each class stood, by the likeliest class of each instrument's evaluation."""
    items = [one.item for one in all_stock(service().engine)]
    made_as = {}
    for one in items:
        kept = find(service().engine, one.evaluation)
        likeliest = service().result(kept).making.likeliest if kept else None
        made_as[one.evaluation] = likeliest or ""
    return selling(items, made_as, service().shop.guide.months_to_sell)


def _families() -> list[Family]:
    held: dict[str, list[Look]] = {name: [] for name in service().families()}
    for before, after in finished_again(service().engine):
        if after.rubric in held and before.rubric == after.rubric:
            held[after.rubric] += _looks(before, after)
    by = "Our workshop" if service().shop.is_default else service().shop.shop
    return [Family(name, tuple(looks), overlay(service().rubric(name), looks, by)) for name, looks in held.items()]


def _looks(before: Kept, after: Kept) -> tuple[Look, ...]:
    """The looks that the later evaluation truly repeated, but for what was worked on between."""
    rubric = service().rubric(after.rubric)
    fresh = {check for check, (_, writer) in after.typed.get("stamps", {}).items() if writer != CONFIRMED}
    orders = [one.work for one in quotes_of(service().engine, before.id) if one.quote.state == "done" and one.work]
    worked = to_look_at(rubric.checks, before.typed["answers"], {task.job for order in orders for task in order.tasks})
    return looks_again(rubric, service().result(before), service().result(after), fresh, worked)
