"""The scale: reference instruments from junk to a maker's own, judged by this workshop's rubrics and prices."""

from functools import lru_cache

from flask import Blueprint, render_template
from markupsafe import Markup

from ...figures.domains import Row, domain_rule
from ...figures.svg import svg
from ...result.evaluation import shop_hash
from ...result.examples import tried
from ...result.scale import Standing, standings
from ...rubric.files.calibration import FILE, Calibration, load_calibration
from ...store.folders import rubrics_folder
from ...wording.names import ADVICE
from ..looking.pages import View
from ..remembered import Remembered
from ..result.pictures import PHONE_MM, WIDE_MM
from ..service import Service, service

scale = Blueprint("scale", __name__)
_FOUND: Remembered[tuple[str, ...], tuple[Standing, ...]] = Remembered(4)


@scale.get("/scale")
def page() -> View:
    found = _standings(service())
    numbered = [one for one in found if one.enough]
    rows = [Row(_name(one), one.now, one.after) for one in reversed(numbered)]
    drawn = [svg(domain_rule(rows, width), f"rule {name}") for width, name in ((WIDE_MM, "wide"), (PHONE_MM, "narrow"))]
    return render_template(
        "workshop/scale.html",
        numbered=tuple(reversed(numbered)),
        open_=tuple(one for one in found if not one.enough),
        picture=Markup("").join(map(Markup, drawn)),
        differing=[(_name(one), line) for one in found for line in one.differs],
        name=_name,
        advice=ADVICE,
        bands=sorted(service().rubric("violin").bands.values(), key=lambda one: -one.at_least),
    )


def _name(one: Standing) -> str:
    said = one.name.replace("_", " ")
    return f"{said[0].upper()}{said[1:]}"


def _standings(here: Service) -> tuple[Standing, ...]:
    """Judged once for these rubrics and prices: twenty instruments take a second or two."""
    rubrics = {name: here.rubric(name) for name in here.families()}
    key = (shop_hash(here.shop), *(one.hash for one in rubrics.values()))
    return _FOUND.of(key, lambda: standings(tried(rubrics, here.shop, calibration())))


@lru_cache(maxsize=1)
def calibration() -> Calibration:
    """A mistake in our own file is a bug and raises."""
    found, problems = load_calibration(rubrics_folder() / FILE)
    if found is None:
        raise ValueError(problems)
    return found
