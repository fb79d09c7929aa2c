"""Load on the bridge: from each string's tension and its three points in space, or from two angles in a plane.

A string pulls its notch towards the nut and towards the saddle of the tailpiece with the same tension (no friction).
The sum of both is its force on the bridge; the arch of the bridge does not set the direction of that force. Axes: x
along the body towards the tailpiece, y towards the treble side, z up from the belly; millimetres and newtons.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from math import cos, radians, sin, sqrt

from ..impossible import ImpossibleError

Point = tuple[float, float, float]


@dataclass(frozen=True, slots=True)
class Load:
    """Newtons: `down` on the belly, `lateral` towards the treble side, `along` towards the tailpiece."""

    down_n: float
    lateral_n: float
    along_n: float


def _unit(start: Point, end: Point) -> Point:
    dx, dy, dz = (b - a for a, b in zip(start, end, strict=True))
    length = sqrt(dx * dx + dy * dy + dz * dz)
    if length == 0:
        raise ImpossibleError("two points of a string coincide")
    return dx / length, dy / length, dz / length


def string_load(tension_n: float, nut: Point, notch: Point, saddle: Point) -> Load:
    """Force of one string on the bridge (vector sum); ImpossibleError where two points coincide."""
    to_nut, to_saddle = _unit(notch, nut), _unit(notch, saddle)
    x, y, z = (tension_n * (a + b) for a, b in zip(to_nut, to_saddle, strict=True))
    return Load(-z, y, x)


def planar_load(tension_n: float, front_deg: float, back_deg: float, lean_deg: float = 0.0) -> Load:
    """The same from two angles: the fall of playing length and afterlength below the level, in a leaning plane.

    down = T (sin front + sin back) cos lean; along = T (cos back - cos front).
    """
    front, back, lean = radians(front_deg), radians(back_deg), radians(lean_deg)
    force = tension_n * (sin(front) + sin(back))
    return Load(force * cos(lean), force * sin(lean), tension_n * (cos(back) - cos(front)))


def total(loads: Sequence[Load]) -> Load:
    """The loads added component by component."""
    return Load(sum(x.down_n for x in loads), sum(x.lateral_n for x in loads), sum(x.along_n for x in loads))


def foot_loads_n(
    loads: Sequence[Load], notches_yz_mm: Sequence[tuple[float, float]], bass_foot_mm: float, treble_foot_mm: float
) -> tuple[float, float]:
    """Load on the bass and the treble foot (N) by moments about the bass foot; y of the feet in mm, z above the feet.

    ImpossibleError where the feet coincide. Source of the check: G. Hart, The Violin (E whole on the treble foot, A
    2/3).
    """
    width = treble_foot_mm - bass_foot_mm
    if width == 0:
        raise ImpossibleError("the feet coincide")
    moment = sum(
        load.down_n * (y - bass_foot_mm) + load.lateral_n * z for load, (y, z) in zip(loads, notches_yz_mm, strict=True)
    )
    treble = moment / width
    return sum(load.down_n for load in loads) - treble, treble
