"""Calculators about figures that are guessed or read from a picture: three-point estimates, length in a photo."""

import math

import numpy as np

from ..assessment.observing.uncertainty import in_quadrature, rectangular
from ..basis.chance import normal_below
from ..estimate import pert
from ..estimate.model import Cost
from ..lutherie.lengths import photo
from .model import ANY, Calculator, Given, IncompleteError, Input, Outcome, Result

LEVELS = (10, 50, 80, 90)
SEED, WORLDS = 1, 40_000  # of the draws for a sum; the error of a level is then about 1 % of the spread


def _lines(given: Given) -> tuple[Cost, ...]:
    columns = [given.all(name) for name in ("low", "likely", "high")]
    if len({len(column) for column in columns}) != 1:
        counts = ", ".join(str(len(column)) for column in columns)
        raise IncompleteError(f"low, likely and high need as many values each, not {counts}")
    for low, likely, high in zip(*columns, strict=True):
        if not low <= likely <= high:
            raise IncompleteError(f"{likely:g} must lie between {low:g} and {high:g}")
    return tuple(pert.cost(*one) for one in zip(*columns, strict=True))


def _classic(lines: tuple[Cost, ...], given: Given) -> tuple[float, dict[int, float], float | None]:
    """Spread, levels and chance by the (high - low) / 6 rule and the normal law."""
    mean, sd = pert.order_mean(lines), pert.order_sd([line.sd for line in lines], given.number("correlation"))
    levels = {share: pert.level(mean, sd, share / 100) for share in LEVELS}
    if not given.has("limit"):
        return sd, levels, None
    limit = given.number("limit")
    return sd, levels, normal_below((limit - mean) / sd) if sd > 0 else float(limit >= mean)


def _exact(lines: tuple[Cost, ...], given: Given) -> tuple[float, dict[int, float], float | None]:
    """Spread, levels and chance by the beta-PERT law; of a sum from seeded draws."""
    sd = pert.order_sd([math.sqrt(pert.exact_variance(line)) for line in lines], given.number("correlation"))
    if len(lines) == 1 and not given.has("limit"):
        return sd, {share: pert.quantile(lines[0], share / 100) for share in LEVELS}, None
    draws = pert.Draws(given.number("correlation"), SEED, WORLDS)
    total = draws.total([(str(i), line) for i, line in enumerate(lines)])
    levels = {share: float(np.quantile(total, share / 100)) for share in LEVELS}
    if len(lines) == 1:
        levels = {share: pert.quantile(lines[0], share / 100) for share in LEVELS}
    return sd, levels, float(np.mean(total <= given.number("limit"))) if given.has("limit") else None


def _three_point(given: Given) -> Outcome:
    lines, unit = _lines(given), given.unit
    sd, levels, chance = (_classic if given.word("rule") == "classic" else _exact)(lines, given)
    main = (
        Result("mean", "Mean", pert.order_mean(lines), unit),
        Result("sd", "Standard deviation", sd, unit),
        *(Result(f"p{share}", f"Not passed in {share} of 100 cases", levels[share], unit) for share in LEVELS),
    )
    also = [Result("variance", "Variance", sd * sd)]
    if len(lines) == 1:
        alpha, beta = pert.shape(lines[0])
        also += [Result("alpha", "Shape of the beta law, alpha", alpha), Result("beta", "and beta", beta)]
    else:
        high = sum(line.high for line in lines)
        also.append(Result("sum_of_highs", "Sum of all highs, hardly ever met", high, unit))
    if chance is not None:
        also.append(Result("chance", "Chance that the limit is not passed", chance))
    return Outcome(main, tuple(also))


THREE_POINT = Calculator(
    "three_point",
    "Low, likely, high",
    "Mean, spread and levels of an estimate given as low, likely and high, and of a sum of such estimates.",
    (
        Input("low", "Low", ANY, required=True, many=True, doubt=False),
        Input("likely", "Likely", ANY, required=True, many=True, doubt=False),
        Input("high", "High", ANY, required=True, many=True, doubt=False),
        Input("correlation", "How much the lines err together, 0 to 1", default="0", low=0.0, high=1.0, doubt=False),
        Input("limit", "A limit that should not be passed", ANY, doubt=False),
        Input(
            "rule",
            "Rule for the spread",
            kind="choice",
            default="exact",
            choices={"exact": "The beta-PERT law itself", "classic": "(high - low) / 6 and the normal law"},
        ),
    ),
    _three_point,
    "Beta-PERT: mean (a + 4 m + b) / 6, variance (mean - a)(b - mean) / 7; a sum with equal correlation by seeded "
    "draws joined by a Gaussian copula",
    "Low and high are near-limits, not the worst that was ever heard of. Highs are not added: all lines are seldom bad "
    "at once.",
    {"low": "40; 20", "likely": "60; 25", "high": "140; 50", "correlation": "0.3"},
    carries=False,
)


def _photo_scale(given: Given) -> Outcome:
    corners = [(p[0], p[1]) for p in given.points("corners", 2)]
    start, end = ((p[0], p[1]) for p in (given.points("start", 2)[0], given.points("end", 2)[0]))
    if start == end:
        raise IncompleteError("start and end coincide")
    flat = photo.length_mm(corners, start, end)
    click = photo.click_uncertainty_mm(corners, start, end, given.number("click"))
    card = rectangular(photo.CARD_HALF_WIDTH_SHARE) * flat
    factor = 1.0
    if given.number("above_plane") != 0:
        if not given.has("camera"):
            raise IncompleteError("a part above the card's plane also needs camera, how far away it stood")
        factor = photo.above_plane_factor(given.number("above_plane"), given.number("camera"))
    also = (
        Result("in_plane", "As if it lay in the card's plane", flat, "mm"),
        Result("click", "Of the doubt, from marking the points", click / factor, "mm"),
        Result("card", "Of the doubt, from the card's own limits", card / factor, "mm"),
        Result("too_long_by", "It reads too long by this share, standing above the plane", factor - 1),
    )
    u = in_quadrature(click, card) / factor
    return Outcome((Result("length", "Length", flat / factor, "mm", u),), also, _photo_warnings(corners, [start, end]))


def _photo_warnings(corners: list[photo.Pixel], ends: list[photo.Pixel]) -> tuple[str, ...]:
    warnings = []
    if photo.spans_away(corners, ends) > 1.5:
        warnings.append("The part reaches more than a card's length beyond the card: small errors grow there.")
    long_side, short_side = math.dist(corners[0], corners[1]), math.dist(corners[1], corners[2])
    if long_side < short_side:
        warnings.append("The first side marked looks shorter than the next: begin with a long side of the card.")
    return tuple(warnings)


PHOTO_SCALE = Calculator(
    "photo_scale",
    "Length in a photo",
    "A length in a photo from the four corners of a bank card that lies in the same plane.",
    (
        Input(
            "corners",
            "Corners of the card in pixels, in order round it, a long side first",
            kind="points",
            width=2,
            least=4,
            most=4,
            required=True,
        ),
        Input("start", "One end of the part", kind="points", width=2, most=1, required=True),
        Input("end", "The other end", kind="points", width=2, most=1, required=True),
        Input("click", "How well a point is marked, standard uncertainty in pixels", default="1", low=0.0, doubt=False),
        Input("above_plane", "The part stands nearer to the camera than the card by", "mm", default="0 mm"),
        Input("camera", "From the camera to the card's plane", "mm", above=0.0),
    ),
    _photo_scale,
    "Plane projective map through four points; card of 85.60 x 53.98 mm, ISO/IEC 7810, size ID-1 (limits from memory)",
    "For flat parts in the card's plane and a lens without distortion. Corners are round: mark where the straight "
    "edges would meet. Three millimetres above the plane at 400 mm read 0.8 % too long.",
    {"corners": "412,655; 1208,702; 1175,1190; 388,1129", "start": "900,300", "end": "1500,1500"},
)

ALL = (THREE_POINT, PHOTO_SCALE)
