"""A drawing or a plot for each calculator's answer: the thing itself where it has a shape, else its curve."""

from collections.abc import Callable
from dataclasses import replace
from math import atan2, cos, exp, pi, sin

from ..calculators.answering import named
from ..calculators.model import Answer, Given, IncompleteError
from ..calculators.reading import unit_of
from ..calculators.wood import gaps_over_year
from ..lutherie import ImpossibleError
from ..lutherie.lengths.arch import fitted_circle
from ..lutherie.seasons.seasons import MONTHS
from ..wording.calculators import figure as in_words
from .plots import Series, Spot, chart, polyline, stacked
from .rules import Mark, Scale, nice_step, rule
from .shapes import Anchor, Box, Dot, Figure, Label, Line, Role, Shape

STEPS = 60
PEGS: tuple[tuple[str, str, Role], ...] = (
    ("boxwood", "boxwood", "accent"),
    ("ebony", "ebony", "ink"),
    ("rosewood", "rosewood", "good"),
)


def drawn(answer: Answer, width: float) -> Figure | None:
    """The figure of an answer, None where there is nothing to draw."""
    make = _DRAWINGS.get(answer.calculator.name, _curve)
    return make(answer, width)


def _main(answer: Answer, given: Given) -> float | None:
    try:
        value = answer.calculator.run(given).main[0].value
    except (ImpossibleError, IncompleteError):
        return None
    return float(value) if not isinstance(value, str) else None


def _curve(answer: Answer, width: float) -> Figure | None:
    """The answer as one of its inputs varies, the rest as given."""
    plot, given = answer.calculator.plot, answer.given
    if plot is None or plot[0] not in given.numbers:
        return None
    one, here = answer.calculator.input(plot[0]), given.number(plot[0])
    low, high = min(plot[1], here), max(plot[2], here)
    points = []
    for i in range(STEPS + 1):
        at = low + (high - low) * i / STEPS
        value = _main(answer, replace(given, numbers={**given.numbers, plot[0]: (at,) * len(given.all(plot[0]))}))
        if value is not None:
            points.append((at, value))
    main = answer.main[0]
    if len(points) < 2 or isinstance(main.value, str):
        return None
    unit = unit_of(one, given.unit)
    x_say = one.say if unit == "ratio" else f"{one.say}, {unit}"
    y_say = main.say if main.unit == "ratio" else f"{main.say}, {main.unit}"
    alike = len(set(given.all(plot[0]))) == 1
    spot = Spot(here, float(main.value), in_words(replace(main, u=None))) if alike else None
    alt = (
        f"{main.say} against {one.say.lower()}: from {points[0][1]:.4g} at {low:g} to {points[-1][1]:.4g} at {high:g}."
    )
    return chart([Series("", points)], x_say, y_say, alt, width=width, spot=spot)


def _peg_year(answer: Answer, width: float) -> Figure:
    """Three woods in two climates over a year, in the direction that moves most."""
    given = answer.given
    panels, most = [], []
    rooms = answer.calculator.rooms
    for name, room in rooms.items():
        series = []
        for wood, say, role in PEGS:
            words = {**given.words, "material": (wood,), "climate": (name,)}
            numbers = {key: value for key, value in given.numbers.items() if key != "humidity"}
            gaps = gaps_over_year(replace(given, words=words, numbers=numbers), rooms)
            moves = [gap.largest_mm for gap in gaps]
            series.append(Series(say, list(enumerate(moves)), role))
        panels.append((room.say, series))
        most += [abs(y) for one in series for _, y in one.points]
    step = nice_step(2 * max(most), 5)
    top = step * (int(max(most) / step) + 1)
    letters = [month[0] for month in MONTHS] if width < 130 else MONTHS
    figures = [
        (say, chart(series, "", "Gap, mm: + looser, - tighter", say, width=width, height=62, names=letters,
                    y_span=(-top, top)))
        for say, series in panels
    ]  # fmt: skip
    worst = max(most)
    alt = f"Gap of pegs of three woods over a year in two climates: up to {worst:.2f} mm, looser in winter."
    return stacked(figures, alt)


class _Fit:
    """Places in mm of the thing laid into a frame, one scale both ways, y upwards."""

    def __init__(self, points: list[tuple[float, float]], width: float, height: float, margin: float = 12.0) -> None:
        xs, ys = [x for x, _ in points], [y for _, y in points]
        across, up = max(xs) - min(xs) or 1.0, max(ys) - min(ys) or 1.0
        self.scale = min((width - 2 * margin) / across, (height - 2 * margin) / up)
        self.left = (width - across * self.scale) / 2 - min(xs) * self.scale
        self.bottom = height - (height - up * self.scale) / 2 + min(ys) * self.scale

    def __call__(self, x: float, y: float) -> tuple[float, float]:
        return self.left + x * self.scale, self.bottom - y * self.scale


def _arch(answer: Answer, width: float) -> Figure | None:
    """The notches, their circle, and the strings' curve carried a little beyond."""
    given = answer.given
    if not given.has("notch"):
        chord, rise = given.number("chord"), given.number("rise")
        points = [(-chord / 2, 0.0), (0.0, rise), (chord / 2, 0.0)]
    else:
        points = [(p[0], p[1]) for p in given.points("notch", 2)]
    circle = fitted_circle(points)
    angles = [atan2(y - circle.y, x - circle.x) for x, y in points]
    low, high = min(angles) - 0.08, max(angles) + 0.08
    if high - low > pi + 1:
        low, high = 0.0, 2 * pi
    line = [low + (high - low) * i / STEPS for i in range(STEPS + 1)]
    arc = [(circle.x + circle.radius * cos(a), circle.y + circle.radius * sin(a)) for a in line]
    height = min(80.0, width * 0.5)
    fit = _Fit(arc, width, height)
    shapes: list[Shape] = [polyline([fit(*p) for p in arc], "ink", 0.5)]
    for i, point in enumerate(points, 1):
        x, y = fit(*point)
        shapes += [Dot(x, y, 1.2, "accent"), Label(x, y - 3, str(i), 3.2, "middle", "soft")]
    text = in_words(answer.main[0])
    shapes.append(Label(width / 2, height - 2, f"radius {text}", 3.4, "middle", "ink", True))
    return Figure(width, height, tuple(shapes), f"{len(points)} notches on an arc of radius {text}.")


def _string(answer: Answer, width: float) -> Figure:
    """The string from nut over the bridge to the tailpiece; heights drawn three times too large."""
    given, tall = answer.given, 3.0
    long, behind = given.number("length"), given.number("afterlength")
    heights = [given.number(name) * tall for name in ("nut_height", "notch_height", "saddle_height")]
    points = list(zip((0.0, long, long + behind), heights, strict=True))
    fit = _Fit([*points, (0.0, 0.0)], width, 70.0)
    foot, end, start = fit(long, 0.0), fit(long + behind, 0.0), fit(0.0, 0.0)
    shapes: list[Shape] = [Line(*start, *end, "line", 0.3), polyline([fit(*p) for p in points], "accent", 0.7)]
    names: tuple[tuple[str, Anchor], ...] = (("nut", "start"), ("bridge", "end"), ("tailpiece", "end"))
    for (x, y), (name, anchor) in zip(points, names, strict=True):
        at = fit(x, y)
        shapes.append(Line(at[0], at[1], at[0], foot[1], "soft", 0.3, dashed=name != "bridge"))
        low = 9.0 if name == "bridge" else 4.5  # the tailpiece is too near for both on one line
        shapes.append(Label(at[0], foot[1] + low, name, 3.2, anchor, "soft"))
    top = fit(*points[1])
    shapes.append(Label(top[0] - 2, top[1] - 3, in_words(answer.main[0]), 3.4, "end", "ink", True))
    shapes.append(Label(0.0, 4.0, "Heights drawn three times too large", 2.9, "start", "soft"))
    return Figure(width, 70.0, tuple(shapes), f"A string over the bridge at {in_words(answer.main[0])}.")


def _bell(answer: Answer, width: float) -> Figure | None:
    """What the true value may be, with the tolerance shaded."""
    given = answer.given
    u = given.number("uncertainty") if given.has("uncertainty") else given.doubt("value")
    joined = named(answer, "value_with_prior")
    value = given.number("value")
    if joined is not None and isinstance(joined.value, float):
        value, u = joined.value, joined.u or u
    if u <= 0:
        return None
    limits = [given.number(name) for name in ("low", "high") if given.has(name)]
    low, high = min([value - 4 * u, *limits]) - u, max([value + 4 * u, *limits]) + u
    height, base = 62.0, 46.0
    x = Scale(low, high, 4.0, width - 8.0)
    left = x.at(given.number("low")) if given.has("low") else x.left
    right = x.at(given.number("high")) if given.has("high") else x.left + x.width
    points = [
        (low + (high - low) * i / 120, exp(-0.5 * ((low + (high - low) * i / 120 - value) / u) ** 2))
        for i in range(121)
    ]
    shapes: list[Shape] = [
        Box(left, 10.0, right - left, base - 10.0, "good", 0.16),
        polyline([(x.at(a), base - 32.0 * b) for a, b in points], "ink", 0.6),
        Line(x.left, base, x.left + x.width, base, "ink", 0.3),
        Label((left + right) / 2, 7.0, "tolerance", 3.2, "middle", "good", True),
    ]
    unit = "" if given.unit == "ratio" else f" {given.unit}"
    for limit in limits:
        shapes.append(Line(x.at(limit), 10.0, x.at(limit), base + 2, "good", 0.5))
        shapes.append(Label(x.at(limit), base + 5.6, f"{limit:g}{unit}", 3.0, "middle", "soft"))
    shapes.append(Line(x.at(value), base - 32.0, x.at(value), base, "accent", 0.5))
    shapes.append(Label(x.at(value), base + 11.0, f"reading {value:g}{unit}", 3.2, "middle", "accent", True))
    return Figure(
        width, height, tuple(shapes), f"Where the true value may lie around {value:g}{unit}, and the tolerance."
    )


def _levels(answer: Answer, width: float) -> Figure:
    """The estimate's levels on a rule."""
    found = {one.name: float(one.value) for one in answer.main if not isinstance(one.value, str)}
    low, high = found["p10"], found["p90"]
    room = max((high - low) * 0.5, 1e-6)
    step = nice_step(high - low + 2 * room, 5)
    marks = [
        Mark(found["mean"], f"mean {found['mean']:.4g}", "accent", low, high),
        Mark(found["p80"], f"80 of 100 below {found['p80']:.4g}"),
    ]
    start, end = step * int((low - room) // step), step * (int((high + room) // step) + 1)
    return rule(
        start, end, marks, f"Mean {found['mean']:.4g}; 10 to 90 of 100 between {low:.4g} and {high:.4g}.", width=width
    )


def _mass(answer: Answer, width: float) -> Figure | None:
    """The tuners' weight on a rule, from light to heavy ones."""
    low, high = (named(answer, name) for name in ("low", "high"))
    likely = answer.main[0].value
    ends = [one.value for one in (low, high) if one is not None and not isinstance(one.value, str)]
    if isinstance(likely, str) or len(ends) < 2 or ends[1] <= 0:
        return None
    step = nice_step(ends[1] * 1.2, 5)
    marks = [Mark(likely, in_words(replace(answer.main[0], u=None)), "accent", ends[0], ends[1])]
    alt = f"Weight of the tuners: likely {likely:g} g, between {ends[0]:g} and {ends[1]:g} g."
    return rule(0.0, step * (int(ends[1] * 1.2 / step) + 1), marks, alt, width=width)


def _parts(answer: Answer, width: float) -> Figure:
    """What each part adds to the doubt, as bars."""
    names = {"repeats": "repeats", "tool": "tool", "steps": "steps", "others": "other parts"}
    parts = [(say, one) for name, say in names.items() if (one := named(answer, name)) is not None]
    bars = [
        (say, float(one.value), in_words(one)) for say, one in parts if not isinstance(one.value, str) and one.value > 0
    ]
    total = answer.main[0]
    bars.append(("together", float(total.value), in_words(total)))
    longest = max(value for _, value, _ in bars)
    shapes: list[Shape] = []
    for i, (say, value, text) in enumerate(bars):
        y = 4.0 + 8.0 * i
        role: Role = "accent" if say == "together" else "soft"
        long = max(0.4, value / longest * (width - 58.0))
        shapes += [Label(0, y + 3.4, say, 3.3), Box(26, y, long, 4.6, role), Label(28 + long, y + 3.4, text, 3.3)]
    return Figure(
        width, 8.0 * len(bars) + 4.0, tuple(shapes), "Parts of the doubt: " + "; ".join(f"{s} {t}" for s, _, t in bars)
    )


def _photo(answer: Answer, width: float) -> Figure:
    """The card and the measured part as they lie in the photo."""
    given = answer.given
    corners = [(p[0], -p[1]) for p in given.points("corners", 2)]
    ends = [(p[0], -p[1]) for p in (given.points("start", 2)[0], given.points("end", 2)[0])]
    height = min(90.0, width * 0.75)
    fit = _Fit([*corners, *ends], width, height)
    shapes: list[Shape] = [polyline([fit(*p) for p in (*corners, corners[0])], "ink", 0.5)]
    a, b = fit(*ends[0]), fit(*ends[1])
    shapes += [Line(*a, *b, "accent", 0.7), Dot(*a, 1.1, "accent"), Dot(*b, 1.1, "accent")]
    middle = fit(sum(x for x, _ in corners) / 4, sum(y for _, y in corners) / 4)
    shapes.append(Label(middle[0], middle[1], "card", 3.3, "middle", "soft"))
    for i, corner in enumerate(corners, 1):
        x, y = fit(*corner)
        shapes.append(
            Label(x + (1.5 if x > middle[0] else -1.5), y + 1, str(i), 3.0, "start" if x > middle[0] else "end", "soft")
        )
    shapes.append(Label(width / 2, height - 2.0, in_words(answer.main[0]), 3.4, "middle", "ink", True))
    return Figure(
        width, height, tuple(shapes), f"The card's corners in the photo and the part, {in_words(answer.main[0])}."
    )


_DRAWINGS: dict[str, Callable[[Answer, float], Figure | None]] = {
    "peg_fit": _peg_year,
    "bridge_arch": _arch,
    "break_angle": _string,
    "conformity": _bell,
    "tuner_mass": _mass,
    "three_point": _levels,
    "uncertainty": _parts,
    "photo_scale": _photo,
}
