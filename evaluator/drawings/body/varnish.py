"""The finish: where hands wear it, thin or thick, its cracks, and what an ultraviolet lamp shows."""

from functools import partial
from math import sin

from ..geometry import plan
from ..geometry.model import Drawing, right, wrong
from ..geometry.outline import body, f_hole, f_holes, lying
from ..geometry.pen import Pen, Point


def _front(pen: Pen) -> Pen:
    near = lying(pen)
    body(near)
    return near


def _worn_by_use(pen: Pen) -> None:
    near = _front(pen)
    for patch in (
        ((66, 26), (81, 52), (82, 80), (70, 78), (60, 50), (54, 28)),
        ((-38, 346), (-70, 332), (-94, 304), (-84, 298), (-62, 318), (-34, 334)),
        ((54, 158), (54, 190), (47, 184), (46, 164)),
    ):
        near.blob(*patch, mark="look", fill="shade")
    f_holes(near)
    plan.board(near, low=0)


def _worn_by_design(pen: Pen) -> None:
    near = _front(pen)
    for side in (1, -1):
        half = near if side > 0 else near.mirrored()
        for patch in (
            ((26, 40), (52, 34), (60, 66), (44, 92), (24, 80)),
            ((28, 262), (62, 250), (80, 284), (62, 326), (30, 322)),
        ):
            half.blob(*patch, mark="look", fill="shade")
    f_holes(near)


def _surface(width: float, rough: float) -> tuple[Point, ...]:
    """The surface of spruce across the grain, winter wood standing up in ridges."""
    return tuple((8 + width * i / 28, 74 - rough * (1 if i % 4 == 2 else 0.35 if i % 2 else 0)) for i in range(29))


def _wood(pen: Pen, rough: float) -> tuple[Point, ...]:
    face = _surface(224, rough)
    pen.region(((232, 126), (8, 126)), face, (face[-1], (232, 126)))
    for i in range(2, 29, 4):
        x = 8 + 8 * i
        pen.line((x, 80), (x, 125), mark="thin")
    return face


def _thin_coat(pen: Pen) -> None:
    face = _wood(pen, 7)
    pen.curve(*((x, y - 4) for x, y in face), mark="look")


def _thick_coat(pen: Pen) -> None:
    face = _wood(pen, 3)
    skin = tuple((x, 48 + 1.2 * sin(x / 30)) for x in range(8, 233, 28))
    pen.region(skin, (skin[-1], face[-1]), face[::-1], (face[0], skin[0]), mark="look", fill="shade")


def _patch(pen: Pen) -> None:
    pen.box(20, 16, 200, 118)


def _fine_net(pen: Pen) -> None:
    """Cells of a grid whose knots are shifted a little, each by a rule of its own."""
    _patch(pen)
    for row in range(1, 7):
        line = tuple(_knot(column, row) for column in range(13))
        pen.line(*line, mark="thin")
    for column in range(1, 12):
        for row in range(7):
            if (column * 3 + row * 5) % 4:
                pen.line(_knot(column, row), _knot(column, row + 1), mark="thin")
    pen.disc((120, 75), 26, mark="look", fill=None)


def _knot(column: int, row: int) -> Point:
    x = 20 + 200 * column / 12 + (0 if column in (0, 12) else 5 * sin(column * 12.9 + row * 7.3))
    return x, 16 + 118 * row / 7 + (0 if row in (0, 7) else 5 * sin(column * 5.7 + row * 3.1))


def _flakes(pen: Pen) -> None:
    _patch(pen)
    for row in range(1, 7, 2):
        for column in range(1, 11, 3):
            x, y = _knot(column, row)
            pen.shape(
                (x, y), (x + 20, y - 5), (x + 27, y + 8), (x + 12, y + 17), (x - 3, y + 10), mark="ink", fill="sheet"
            )
            pen.line((x - 3, y + 10), (x - 6, y + 3), (x, y), mark="look")


def _glow(pen: Pen, later: bool) -> None:
    near = lying(pen)
    body(near, mark="ink" if later else "look", fill="shade")
    if later:
        near.region(((24, 214), (27, 250), (25, 300)), ((33, 300), (36, 250), (32, 214)), mark="look", fill="sheet")
        near.blob((-52, 42), (-34, 36), (-28, 62), (-44, 78), (-60, 66), mark="look", fill="sheet")
        near.blob((70, 330), (88, 312), (96, 290), (82, 296), (64, 320), mark="look", fill="sheet")
    f_holes(near)


def _hollowed(x: float) -> float:
    """How deep use has worn the surface at a place."""
    return 10 / (1 + ((x - 120) / 34) ** 4)


def _worn_face(pen: Pen) -> tuple[Point, ...]:
    face = tuple((float(x), 70 + _hollowed(x)) for x in range(8, 233, 16))
    pen.region(((232, 126), (8, 126)), (face[0], *face[1:]), (face[-1], (232, 126)))
    for x in range(20, 230, 26):
        pen.line((x, 84), (x, 125), mark="guide")
    return face


def _first_coat(pen: Pen) -> None:
    """Varnish that is thick where nobody touches and thins out towards the worn place."""
    face = _worn_face(pen)
    for part in ([p for p in face if p[0] <= 88], [p for p in face if p[0] >= 152]):
        bare = max(part, key=lambda p: p[1])
        skin = tuple((x, y - 9 * min(1, abs(x - bare[0]) / 44)) for x, y in part)
        pen.region(skin, (skin[-1], part[-1]), part[::-1], (part[0], skin[0]), mark="look", fill="shade")


def _later_coat(pen: Pen) -> None:
    """The same under a later coat that fills the hollow and lies on everything."""
    face = _worn_face(pen)
    first = tuple((x, y - 9 * min(1, max(0.0, abs(x - 120) - 30) / 44)) for x, y in face)
    pen.region(first, (first[-1], face[-1]), face[::-1], (face[0], first[0]), mark="thin", fill="shade")
    skin = tuple((x, y - 9 if abs(x - 120) > 60 else 54.0) for x, y in first)
    pen.region(skin, (skin[-1], first[-1]), first[::-1], (first[0], skin[0]), mark="look", fill="sheet")


def _clean_work(pen: Pen) -> None:
    near = pen.at(48, 75 - 191 * 1.7, 1.7)
    near.box(-18, 149, 118, 85, mark="bare")
    f_hole(near, fill="sheet", mark="look")
    f_hole(near, fill="sheet")


def _hasty_work(pen: Pen) -> None:
    near = pen.at(48, 75 - 191 * 1.7, 1.7)
    near.box(-18, 149, 118, 85, mark="bare")
    f_hole(near, fill="shade", mark="look")
    f_hole(near, fill="shade")
    for x, y, long in ((60, 160, 18), (68, 156, 30), (80, 170, 14), (2, 168, 24), (14, 190, 16)):
        near.region(
            ((x - 1.2, y), (x - 1.6, y + long), (x, y + long + 3), (x + 1.6, y + long), (x + 1.2, y)),
            ((x + 1.2, y), (x - 1.2, y)), mark="look", fill="shade",
        )  # fmt: skip
    for i in range(14):
        near.disc((-10 + 26 * (i % 4) + 7 * sin(i * 2.3), 154 + 5.4 * i), 0.6, mark="thin", fill="ink")


DRAWINGS = (
    Drawing(
        "varnish_wear",
        "The top from the front, neck to the left",
        (
            right("Worn by use: where the hand reaches up, under the chin, where the bow passes.", _worn_by_use),
            wrong("Worn by design: alike on both sides, where no hand comes.", _worn_by_design),
        ),
    ),
    Drawing(
        "varnish_coat",
        "The finish on spruce, cut across the grain and drawn very large",
        (
            right("Thin: the grain can be felt through it.", _thin_coat),
            wrong("A thick skin: level, glassy, and it lies over grain and edges alike.", _thick_coat),
        ),
    ),
    Drawing(
        "varnish_cracks",
        "A piece of the finish, close up",
        (
            right("A net of fine lines that is hard and firm: age, and no harm.", _fine_net),
            wrong("Scales whose edges lift. Do not touch or clean them.", _flakes),
        ),
    ),
    Drawing(
        "uv_glow",
        "The top under an ultraviolet lamp in the dark",
        (
            right("One even glow all over.", partial(_glow, later=False)),
            wrong(
                "Spots and lines that glow otherwise: varnish laid on later, perhaps over a crack.",
                partial(_glow, later=True),
            ),
        ),
    ),
    Drawing(
        "varnish_layers",
        "Wood and finish cut across at a place that hands have worn, drawn very large",
        (
            right("The first finish thins out towards the worn place.", _first_coat),
            wrong("A later coat fills the hollow and lies over old wear and old finish alike.", _later_coat),
        ),
    ),
    Drawing(
        "varnish_work",
        "A sound hole and the finish around it",
        (
            right("Clean: no runs, and the edge of the hole is as it was cut.", _clean_work),
            wrong("Hasty: runs, dust, and spray on the edges of the hole and inside.", _hasty_work),
        ),
    ),
)
