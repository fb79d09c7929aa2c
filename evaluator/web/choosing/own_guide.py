"""The price guide by class fitted from the book of known sales, beside the one that counts: taken over by hand."""

from dataclasses import dataclass

from flask import Blueprint, redirect, render_template, request, url_for

from ...basis.record import as_object
from ...rubric.files.shop_file import first_guide
from ...rubric.written.kinds import ThreePoint
from ...store.folders import rubrics_folder
from ...store.known_sales import whole_book
from ...valuation.evidence.guide_fit import FittedClass, FittedGuide, adopted, fitted_guide
from ..looking.pages import View
from ..service import service
from ..workshop.my_shop import keep_figures, own_figures

own_guide = Blueprint("own_guide", __name__)
CHANGED = "Somebody saved the shop's figures meanwhile. Look at both guides again, then take it over."


@dataclass(frozen=True, slots=True)
class Line:
    """A class with its words, the price that counts now, and whether enough sales stand behind the fitted one."""

    say: str
    fitted: FittedClass
    now: ThreePoint | None
    enough: bool


@own_guide.get("/shop/guide/from-sales")
def page() -> View:
    return _page()


@own_guide.post("/shop/guide/from-sales")
def adopt() -> View:
    """Put the ticked classes into the shop's figures; what else they hold stays as it is."""
    version, data = own_figures()
    if request.form.get("version") != str(version):
        return _page(CHANGED), 409
    ticked = (name.partition("/") for name in request.form.getlist("take"))
    chosen = frozenset((family, making) for family, _, making in ticked)
    prices = adopted(_fitted(), 0, chosen)
    if not prices:
        return _page("Tick the classes whose prices you agree with."), 422
    guide = as_object(data.get("guide") or {})
    before = as_object(guide.get("prices") or {})
    with_these = {**before, **{name: {**as_object(before.get(name) or {}), **new} for name, new in prices.items()}}
    wrong = keep_figures({**data, "guide": {**guide, "prices": with_these}}, version, "price guide from sales")
    if wrong is not None:
        return _page(next(iter(wrong.values()))), 422
    return redirect(url_for("my_shop.overview", saved="yes"))


def _fitted() -> tuple[FittedGuide, ...]:
    shop, sales = service().shop, whole_book(service().engine).sales
    first = first_guide(shop, rubrics_folder() / "shop.yaml")
    on = service().today()
    found = (fitted_guide(sales, family, first, shop, on) for family in first.prices)
    return tuple(one for one in found if one is not None and (one.count or one.unclear))


def _page(told: str = "") -> str:
    version, _ = own_figures()
    return render_template(
        "choosing/own_guide.html",
        guides=[(one, _lines(one)) for one in _fitted()],
        version=version,
        told=told,
        currency=service().shop.currency,
        fewest=service().shop.sales.fewest,
    )


def _lines(fitted: FittedGuide) -> list[Line]:
    shop, classes = service().shop, service().rubric(fitted.family).classes
    now = shop.guide.prices.get(fitted.family, {})
    return [
        Line(classes[one.making].say, one, now.get(one.making), one.count >= shop.sales.fewest)
        for one in fitted.classes
        if one.making in classes
    ]
