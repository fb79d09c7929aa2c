"""The head from the side, nut on the right: scroll, peg box and the neck below it. In mm, y up from the nut's top.

A volute of some two and a half turns about its eye, each turn a little over half the one outside it; from memory.
"""

from functools import partial
from math import cos, radians, sin

from ..geometry.model import Drawing, plain, right, wrong
from ..geometry.pen import Mark, Pen, Point, spiral
from ..geometry.profile import broken

EYE: Point = (-86.0, -6.0)
OUTER_MM, SHRINK, TURNS = 20.5, 0.54, 2.45
PEGS: tuple[Point, ...] = ((-16.5, -13), (-30, -10.5), (-43, -14.5), (-55.5, -13.5))
BACK: tuple[Point, ...] = ((-86, -26.5), (-68, -26.8), (-44, -27.6), (-22, -28.4), (-10, -28.6))
CHIN: tuple[Point, ...] = ((-10, -28.6), (-4.5, -26.4), (-1, -21.6), (8, -19.2), (26, -18.8))
FRONT: tuple[Point, ...] = ((-6, -2.4), (-20, -0.8), (-38, -1.4), (-52, -5), (-62, -11), (-69, -16), (-76.6, -15.6))


def volute(turns: float = TURNS, wobble: float = 0, shrink: float = SHRINK, inside: float = 1) -> tuple[Point, ...]:
    """The line of the scroll, from under its eye backwards, up and over, to the eye; `wobble` spoils its evenness."""
    count = round(turns * 12) + 1
    points = spiral(EYE, OUTER_MM * inside, OUTER_MM * inside * shrink**turns, -turns, 270, count)
    if not wobble:
        return points
    spoilt = []
    for at, (x, y) in enumerate(points):
        out = 1 + wobble * sin(at * 1.9) * (at > 3)
        spoilt.append((EYE[0] + (x - EYE[0]) * out, EYE[1] + (y - EYE[1]) * out))
    return tuple(spoilt)


def _on_volute(turn: float, inside: float = 1) -> Point:
    radius, way = OUTER_MM * inside * SHRINK**turn, radians(270 - 360 * turn)
    return EYE[0] + radius * cos(way), EYE[1] + radius * sin(way)


def head(pen: Pen, look: Mark = "ink", crude: bool = False, pegs: bool = True, piece: bool = True) -> None:
    """Scroll, box, nut and a `piece` of neck and board; `look` is the mark of the volute's line."""
    line = volute(1.5, 0.07, 0.5) if crude else volute()
    outer = line[:13]
    end = outer[-1] if crude else _on_volute(0.9)
    pen.region(
        outer[:11],
        (outer[10], end),
        FRONT[::-1],
        (FRONT[0], (26, -11)),
        ((26, -11), CHIN[-1]),
        CHIN[::-1],
        BACK[::-1],
        mark="bare",
    )
    pen.curve(*FRONT)
    pen.curve(*BACK)
    pen.curve(*CHIN)
    pen.curve(*line, mark=look)
    eye = 4.4 if crude else OUTER_MM * SHRINK**TURNS
    pen.disc(EYE, eye * 1.0, mark=look, fill="tint")
    if not crude:
        pen.curve(*volute(1.95, inside=0.93)[1:], mark="thin")
        pen.curve(*((x, y + 1.6) for x, y in BACK), mark="thin")
    if piece:
        pen.shape((0, 0), (26, 2.6), (26, -11), (0, -11), fill="dark")
    pen.shape((-6, -11), (-6, 0), (-4, 1.4), (0, 0.8), (0, -11))
    if piece:
        pen.line((-6, -11), (26, -11))
        broken(pen, ((26, 4.4), (26, -20.6)))
    if pegs:
        for peg in PEGS:
            pen.disc(peg, 4, fill="dark")


def scroll(pen: Pen, look: Mark = "ink", crude: bool = False) -> None:
    """The scroll alone, with the end of the box, which breaks off."""
    line = volute(1.5, 0.06, 0.5) if crude else volute()
    end = line[12] if crude else _on_volute(0.9)
    front, back = FRONT[3:], (*BACK[:2], (-52.0, -27.3))
    pen.region(line[:11], (line[10], end), front[::-1], (front[0], back[-1]), back[::-1], mark="bare")
    pen.curve(*front)
    pen.curve(*back)
    pen.curve(*line, mark=look)
    pen.disc(EYE, 4.6 if crude else OUTER_MM * SHRINK**TURNS, mark=look)
    if not crude:
        pen.curve(*volute(1.95, inside=0.93)[1:], mark="thin")
    broken(pen, ((-52, -3), (-52, -29)))


def _carving(pen: Pen, crude: bool) -> None:
    scroll(pen.at(308, 78, 2.4, up=True), "look", crude)


def _damage(pen: Pen, chipped: bool) -> None:
    mm = pen.at(308, 78, 2.4, up=True)
    scroll(mm)
    if not chipped:
        mm.curve(*volute()[:8], mark="look")
        return
    places = [0.27 + 0.045 * at for at in range(8)]
    jagged = [_on_volute(turn, 0.86 if at % 2 else 0.76) for at, turn in enumerate(places)]
    ends = _on_volute(places[0] - 0.01), _on_volute(places[-1] + 0.01)
    over = [_on_volute(turn, 1.1) for turn in (places[0] - 0.01, *places[1:-1], places[-1] + 0.01)]
    mm.shape(ends[0], *jagged, ends[1], *reversed(over), mark="bare", fill="sheet")
    mm.line(ends[0], *jagged, ends[1], mark="look")
    mm.curve(*over, mark="hidden")


def _crack(pen: Pen) -> None:
    """Cracks run along the grain, from peg hole to peg hole."""
    mm = pen.at(188, 60, 1.62, up=True)
    head(mm)
    mm.curve((-59.5, -13.8), (-64, -14.6), (-67, -14.4), mark="look")
    mm.curve((-51.5, -13.6), (-49, -14.6), (-47, -14.2), mark="look")
    mm.curve((-39, -14.8), (-34, -12.6), (-28, -14.4), (-20.5, -13.2), mark="look")


def _graft(pen: Pen, grafted: bool) -> None:
    mm = pen.at(188, 60, 1.62, up=True)
    head(mm)
    if grafted:
        mm.line((-24.4, -1.0), (-21.5, -17.5), (-3.6, -24.8), mark="look")
    else:
        for low, high, y in ((-40, -9, -5.2), (-37, 22, -19.6), (-44, 8, -22.6)):
            mm.line((low, y + 0.6), ((low + high) / 2, y), (high, y + 0.8 if high > 0 else y), mark="look")


def _break(pen: Pen, pinned: bool) -> None:
    """A neck with a mended break: cut long and glued, or held by a screw."""
    mm = pen.at(92, 40, 2.0, up=True)
    top, low = ((-40, 0), (68, 7.2)), ((68, -15), (-40, -18))
    mm.shape((-40, -10), (68, -2.8), *low)
    mm.shape(*top, (68, -2.8), (-40, -10), fill="dark")
    if pinned:
        mm.line((6, -7), (9, -10), (7.4, -13), (11, -16.7), mark="look")
        mm.shape((2.4, -16.95), (5.6, -16.85), (15.2, -7.4), (12.8, -6.9), mark="look", fill="look")
    else:
        mm.line((-22, -8.8), (40, -16.1), mark="look")
    broken(mm, ((-40, 2), (-40, -20)))
    broken(mm, ((68, 9.2), (68, -17)))


DRAWINGS = (
    Drawing(
        "scroll_carving",
        "The scroll from the side",
        (
            right("One even line winds to a round eye, its edges crisp.", partial(_carving, crude=False)),
            wrong("Lumpy, too few turns, edges sanded away.", partial(_carving, crude=True)),
        ),
    ),
    Drawing(
        "scroll_damage",
        "The scroll from the side",
        (
            right("The first turn is whole, if worn a little round.", partial(_damage, chipped=False)),
            wrong("A fall has broken off a piece of the turn.", partial(_damage, chipped=True)),
        ),
    ),
    Drawing(
        "pegbox_crack",
        "The head from the side, nut on the right",
        (plain("Cracks run along the grain, from hole to hole. Look close round each hole.", _crack),),
    ),
    Drawing(
        "scroll_graft",
        "The head from the side, nut on the right",
        (
            plain("One piece: the grain runs through from box to neck.", partial(_graft, grafted=False)),
            plain("A graft: a fine line across the wall, the same on both sides.", partial(_graft, grafted=True)),
        ),
    ),
    Drawing(
        "neck_break",
        "A mended neck from the side",
        (
            right("Cut long and glued: a fine slanting line, no step.", partial(_break, pinned=False)),
            wrong("A short, rough break, held by a pin through it.", partial(_break, pinned=True)),
        ),
    ),
)
