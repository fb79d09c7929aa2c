"""Figures for the pages, from a result: the same rules that the papers draw, as inline SVG."""

from functools import lru_cache

from markupsafe import Markup

from ...basis import show
from ...figures.domains import Row, domain_rule
from ...figures.mapping.map import Spot, mapped
from ...figures.readings import reading_rule, slim_rule
from ...figures.shapes import Figure
from ...figures.svg import svg
from ...papers.sections.frame import price_rule_of, score_rule_of
from ...result.model.result import Result
from ...result.model.score import Measured, Span
from ...wording.names import DOMAINS
from ...wording.words import believed

# Widths that make 3.3 mm of lettering some 15 px: on a phone, and in a column of 36 rem.
PHONE_MM, WIDE_MM = 80.0, 130.0
SLIM_MM = 60.0  # a rule without words, for a row


def _triple(values: Span) -> tuple[float, float, float]:
    return values.expected, values.low, values.high


def _score(result: Result, width: float) -> Figure:
    return score_rule_of(result, width)


def _price(result: Result, width: float) -> Figure:
    return price_rule_of(result, width)


def _reading(item: Measured, width: float) -> Figure:
    text = show.doubtful(item.value, item.standard_uncertainty, item.unit)
    return reading_rule(item.value, item.standard_uncertainty, item.low, item.high, item.unit, text, width)


def _outline(result: Result) -> Figure | None:
    found = believed(result)
    spots = [Spot(number, item.check, item.part) for number, item in enumerate(found, 1)]
    return mapped(spots, result.instrument.family, views=("front",))


def _domains(result: Result, width: float) -> Figure:
    rows = [
        Row(DOMAINS[name], _triple(values.as_it_stands), _triple(values.after_work))
        for name, values in result.domains.items()
    ]
    return domain_rule(rows, width)


_KINDS = {"score": _score, "price": _price, "domains": _domains}


@lru_cache(maxsize=2048)
def reading_picture(of: Measured, *, slim: bool = False) -> Markup:
    """A reading on its rule; `slim` without words, for a row. Equal readings are drawn once: a page may hold forty."""
    if slim:
        text = show.doubtful(of.value, of.standard_uncertainty, of.unit)
        return Markup(svg(slim_rule(of.value, of.standard_uncertainty, of.low, of.high, text, SLIM_MM), "rule slim"))
    return Markup(svg(_reading(of, PHONE_MM), "rule reading-rule"))


def picture(kind: str, of: Result) -> Markup:
    """The figure `kind` of a result; wide and narrow forms are switched by the style sheet."""
    if kind == "outline":
        drawn = _outline(of)
        kind_of = "outline lying" if drawn and drawn.width > drawn.height else "outline"
        return Markup(svg(drawn, kind_of)) if drawn else Markup("")
    wide, narrow = _KINDS[kind](of, WIDE_MM), _KINDS[kind](of, PHONE_MM)
    # The writer escapes every text; a screen reader meets one of the two, as the other is not displayed.
    return Markup(svg(wide, "rule wide") + svg(narrow, "rule narrow"))
