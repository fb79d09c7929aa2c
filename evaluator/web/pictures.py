"""Figures for the pages, from a snapshot: the same rules that the papers draw, as inline SVG."""

from collections.abc import Mapping
from typing import Any

from markupsafe import Markup

from ..basis import show
from ..report.figures import Figure, price_rule, reading_rule, score_rule
from ..report.outline import outline
from ..report.svg import svg
from ..report.words import believed

PHONE_MM = 100.0


def _score(snapshot: Mapping[str, Any], width: float) -> Figure:
    def triple(values: Mapping[str, float]) -> tuple[float, float, float]:
        return values["expected"], values["low"], values["high"]

    return score_rule(triple(snapshot["score"]), triple(snapshot["score_after_work"]), width)


def _price(snapshot: Mapping[str, Any], width: float) -> Figure:
    verdict = snapshot["verdict"]
    asking = float(verdict["asking"]["amount"]) if verdict["asking"] else None
    return price_rule(verdict["target_price"], verdict["walk_away_price"], asking, snapshot["plan"]["currency"], width)


def _reading(item: Mapping[str, Any], width: float) -> Figure:
    text = show.doubtful(item["value"], item["standard_uncertainty"], item["unit"])
    return reading_rule(
        item["value"], item["standard_uncertainty"], item["low"], item["high"], item["unit"], text, width
    )


def _outline(snapshot: Mapping[str, Any], _width: float) -> Figure | None:
    found = believed(snapshot)
    return outline([(n, item["part"]) for n, item in enumerate(found, 1)], snapshot["instrument"]["family"])


_KINDS = {"score": _score, "price": _price, "reading": _reading, "outline": _outline}


def picture(kind: str, of: Mapping[str, Any]) -> Markup:
    """The figure `kind` of a snapshot (or of one reading); wide and narrow forms are switched by the style sheet."""
    if kind == "outline":
        drawn = _outline(of, 0)
        return Markup(svg(drawn, "outline")) if drawn else Markup("")
    wide, narrow = _KINDS[kind](of, 160.0), _KINDS[kind](of, PHONE_MM)
    if wide is None or narrow is None:
        return Markup("")
    # Both writers escape every text; a screen reader meets one of them, as the other is not displayed.
    return Markup(svg(wide, "rule wide") + svg(narrow, "rule narrow"))
