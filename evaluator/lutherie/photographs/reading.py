"""A length from one photo with a bank card in it, with its doubt.

The camera's pose comes from the card (`camera`); each end is then found where its ray meets the height at which such an
end stands (`laying`), so that parallax is taken off, not hoped away. The doubt is first order, from every input that is
not known for sure: Guide to the expression of uncertainty in measurement (JCGM 100:2008), 5.1.2; slopes are taken over
one standard uncertainty to each side (5.1.3, note 2). What would leave too much doubt is refused, with the reason.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from math import hypot, sqrt
from typing import Literal

import numpy as np

from ...basis.problem import Message, Messages, Problem, problem
from .. import ImpossibleError
from ..lengths.photo import CARD_HALF_WIDTH_SHARE, CARD_MM, Pixel
from .camera import Lens, Pose, fitted_pose, in_order
from .laying import Laying

Source = Literal["card_marks", "end_marks", "focal", "lens", "height", "tip", "card", "ends"]
Inputs = Mapping[str, float]
# A phone straightens its own pictures: what is left bends a place at the corner of the picture by at most this share of
# its distance from the middle. From memory.
BENT_SHARE = 0.01
MOST_TILT_DEG = 50.0
# Sum of squares that two degrees of freedom may leave before the marks are no card: marks off by six times their doubt.
MOST_MISFIT = 72.0
# More doubt than this is of no use for any of the lengths: one standard uncertainty, the larger of the two.
MOST_SHARE, MOST_MM = 0.02, 1.5
FORMER_FREEDOM = 4.0
TURNS = 3  # a length settles to under a hundredth of a millimetre in two

MESSAGES: Messages = {
    "photo_length.marks": Message(
        "the marks cannot be used: {why}.", "Mark the card's corners and the ends once more."
    ),
    "photo_length.no_card": Message(
        "the four corners do not fit a flat bank card in a whole photo.",
        "Mark where its straight edges would meet; use a photo that was not cut, and a card that is not bent.",
    ),
    "photo_length.slanted": Message(
        "the photo was taken too slanted, {tilt:.0f} degrees off.", "Take it from straight above the card."
    ),
    "photo_length.too_near": Message(
        "the camera stood only {away:.0f} mm away, so what lies {height:.0f} mm off the card's plane is too far off.",
        "Take the photo from {wanted:.0f} mm or more.",
    ),
    "photo_length.card_marks": Message(
        "the card is too small in the photo, or lies too far from the length: {u} mm of doubt come from its corners.",
        "Lay it nearer to the middle of the length, fill the picture, and mark its corners again.",
    ),
    "photo_length.other": Message(
        "this photo leaves {u} mm of doubt.", "Take it from straight above, and fill the picture."
    ),
}


@dataclass(frozen=True, slots=True)
class Marks:
    """What was marked in a photo, in px from its upper left: the card's corners and the places of the length; `u_px` is
    the standard uncertainty of a coordinate.
    """

    corners: tuple[Pixel, ...]
    places: tuple[Pixel, ...]
    u_px: float


@dataclass(frozen=True, slots=True)
class PhotoLength:
    """A length in mm with its standard uncertainty and the parts of it by source, largest first.

    `away_mm`: from the camera to the card's plane. `taken_off_mm`: what parallax had added to the length (negative
    where it had taken from it).
    """

    mm: float
    u_mm: float
    parts: tuple[tuple[Source, float], ...]
    away_mm: float
    tilt_deg: float
    taken_off_mm: float


def measured(marks: Marks, lens: Lens, laying: Laying) -> PhotoLength | Problem:
    """The length that was marked in a photo, or why this photo cannot give it."""
    try:
        corners = in_order(marks.corners, lens, marks.u_px)
        pose = fitted_pose(corners, lens, marks.u_px)
        if refusal := _no_view(pose):
            return refusal
        marks = replace(marks, corners=corners, u_px=marks.u_px * _shakiness(pose.misfit))
        found = _with_doubt(marks, lens, laying, pose)
    except ImpossibleError as error:
        return problem(MESSAGES, "photo_length.marks", "the photo", why=error)
    return _too_doubtful(found, laying) or found


def _no_view(pose: Pose) -> Problem | None:
    if pose.misfit > MOST_MISFIT:
        return problem(MESSAGES, "photo_length.no_card", "the photo")
    if pose.tilt_deg > MOST_TILT_DEG:
        return problem(MESSAGES, "photo_length.slanted", "the photo", tilt=pose.tilt_deg)
    return None


def _shakiness(misfit: float) -> float:
    """By how much the marks are less sure than was said, as their own misfit tells: at least 1.

    Two degrees of freedom tell little, so what was said counts as four more (JCGM 100, 4.3.10 and G.4.2, in spirit).
    """
    return max(1.0, sqrt((FORMER_FREEDOM + misfit) / (FORMER_FREEDOM + 2)))


def _too_doubtful(found: PhotoLength, laying: Laying) -> Problem | None:
    parts = dict(found.parts)
    height = hypot(parts["height"], parts["tip"])
    most = max(MOST_SHARE * found.mm, MOST_MM)
    if height > most:
        wanted = found.away_mm * height / most
        off = max(abs(one.at(found.mm)) + one.half_width(found.mm) for one in laying.heights)
        return problem(
            MESSAGES,
            "photo_length.too_near",
            "the photo",
            away=found.away_mm,
            height=off,
            wanted=50 * (wanted // 50 + 1),
        )
    if found.u_mm <= most:
        return None
    code = "photo_length.card_marks" if found.parts[0][0] == "card_marks" else "photo_length.other"
    return problem(MESSAGES, code, "the photo", u=f"{found.parts[0][1]:.1f}")


def _with_doubt(marks: Marks, lens: Lens, laying: Laying, pose: Pose) -> PhotoLength:
    value = _length({}, marks, lens, laying, pose)
    first, last = (replace(one, mm=0.0, share=0.0) for one in laying.heights)
    flat = replace(laying, heights=(first, last))
    summed: dict[Source, float] = {}
    for source, name, u in _inputs(marks, lens, laying, value):
        up, down = (_length({name: sign * u}, marks, lens, laying, pose) for sign in (1.0, -1.0))
        summed[source] = summed.get(source, 0.0) + ((up - down) / 2) ** 2
    summed["ends"] = sum(end * end / 3 for end in laying.end_mm)
    parts = sorted(((source, sqrt(square)) for source, square in summed.items()), key=lambda one: -one[1])
    taken_off = _length({}, marks, lens, flat, pose) - value
    return PhotoLength(value, sqrt(sum(summed.values())), tuple(parts), pose.place[2], pose.tilt_deg, taken_off)


def _inputs(marks: Marks, lens: Lens, laying: Laying, length_mm: float) -> list[tuple[Source, str, float]]:
    """Every input that is not known for sure: its source, its name, its standard uncertainty."""
    found: list[tuple[Source, str, float]] = []
    tapped: tuple[tuple[Source, int, str], ...] = (
        ("card_marks", 4, "corner"),
        ("end_marks", len(marks.places), "place"),
    )
    for source, count, kind in tapped:
        found += [(source, f"{kind} {i} {axis}", marks.u_px) for i in range(count) for axis in "xy"]
    wide = [one.half_width(length_mm) / sqrt(3) for one in laying.heights]
    return [
        *found,
        ("focal", "focal", lens.focal_share),
        ("lens", "bent", BENT_SHARE / sqrt(3)),
        ("card", "card", CARD_HALF_WIDTH_SHARE / sqrt(3)),
        ("height", "height 0", wide[0]),
        ("height", "height 1", wide[1]),
        ("tip", "along", laying.tip_along / sqrt(3)),
        ("tip", "across", laying.tip_across / sqrt(3)),
    ]


def _length(off: Inputs, marks: Marks, lens: Lens, laying: Laying, near: Pose) -> float:
    """The length where the named inputs are off by so much, all others as they are; `near`: the pose as they are."""

    def put(kind: str, pixels: Sequence[Pixel]) -> list[Pixel]:
        moved = [
            (x + off.get(f"{kind} {i} x", 0.0), y + off.get(f"{kind} {i} y", 0.0)) for i, (x, y) in enumerate(pixels)
        ]
        return [_straight(one, lens, off.get("bent", 0.0)) for one in moved]

    corners, places = put("corner", marks.corners), put("place", marks.places)
    seen = replace(lens, focal=lens.focal * (1 + off.get("focal", 0.0)))
    pose = fitted_pose(corners, seen, marks.u_px, near)
    length = 0.0
    tips: list[float] = [0.0] * len(places)
    for _ in range(TURNS):
        at = [min(i, 1) for i in range(len(places))]
        heights = [
            laying.heights[j].at(length) + off.get(f"height {j}", 0.0) + tip for j, tip in zip(at, tips, strict=True)
        ]
        ends = [(*pose.at_height(place, height), height) for place, height in zip(places, heights, strict=True)]
        length = _across(ends) if laying.marks == 3 else _between(*ends)
        tips = _tips(ends, off)
    return length * (1 + off.get("card", 0.0))


End = tuple[float, float, float]


def _between(a: End, b: End) -> float:
    return sqrt(sum((p - q) ** 2 for p, q in zip(a, b, strict=True)))


def _across(ends: Sequence[End]) -> float:
    """From the first place to the line through the other two, seen from straight above the card."""
    (x, y, _), (ax, ay, _), (bx, by, _) = ends
    along = hypot(bx - ax, by - ay)
    if along < 1e-6:
        raise ImpossibleError("two marks coincide")
    return abs((bx - ax) * (y - ay) - (by - ay) * (x - ax)) / along


def _tips(ends: Sequence[End], off: Inputs) -> list[float]:
    """How much higher each place stands where the card is tipped: along the length and across it, about its middle."""
    (x0, y0), (x1, y1) = ends[0][:2], np.mean([end[:2] for end in ends[1:]], axis=0)
    long = hypot(x1 - x0, y1 - y0) or 1.0
    ux, uy = (x1 - x0) / long, (y1 - y0) / long
    middle = (CARD_MM[0] / 2, CARD_MM[1] / 2)
    away = [(x - middle[0], y - middle[1]) for x, y, _ in ends]
    along, across = off.get("along", 0.0), off.get("across", 0.0)
    return [along * (dx * ux + dy * uy) + across * (dy * ux - dx * uy) for dx, dy in away]


def _straight(pixel: Pixel, lens: Lens, bent: float) -> Pixel:
    """Where the mark would be if the lens bent nothing: `bent` is the share of its distance at the picture's corner."""
    dx, dy = pixel[0] - lens.middle[0], pixel[1] - lens.middle[1]
    grown = 1 + bent * (dx * dx + dy * dy) / (lens.middle[0] ** 2 + lens.middle[1] ** 2)
    return lens.middle[0] + dx * grown, lens.middle[1] + dy * grown
