"""Words for lengths from a photo: where the card goes, what to mark, and where the doubt comes from."""

from collections.abc import Mapping
from dataclasses import dataclass

from ..basis.show import number, with_unit
from ..lutherie.photographs.reading import PhotoLength, Source

CORNERS = tuple(f"corner {i} of the card, where its straight edges would meet" for i in range(1, 5))


@dataclass(frozen=True, slots=True)
class Asked:
    """What one length asks for: `lay` the card, `hold` the phone, and the places to mark behind the card's corners."""

    lay: str
    hold: str
    places: tuple[str, ...]


_ON_STRINGS = "Lay the card flat on the middle strings, its long side along them"
ASKED: Mapping[str, Asked] = {
    "string_length": Asked(
        f"{_ON_STRINGS}, halfway between nut and bridge.",
        "Hold the phone level above it, so that nut and bridge both lie in the picture and fill it.",
        ("the front edge of the nut, under a middle string", "the middle of the bridge's top, under the same string"),
    ),
    "body_stop": Asked(
        f"{_ON_STRINGS}, halfway between the neck's root and the bridge.",
        "Hold the phone level above it, half a metre away, so that upper edge and sound holes lie in the picture.",
        (
            "the edge of the top, right beside the neck",
            "the small inner notch of one sound hole",
            "the small inner notch of the other sound hole",
        ),
    ),
    "afterlength": Asked(
        "Hold the card upright against the side of bridge and tailpiece, its upper edge just below the outer string.",
        "Hold the phone level with the strings, straight before the card, 30 to 40 cm away.",
        ("where the outer string crosses the bridge", "where it meets the ridge of the tailpiece"),
    ),
    "board_end_width": Asked(
        "Lay the card flat on the strings, its long side beside the end of the board.",
        "Hold the phone level above it, 40 cm away.",
        ("one corner of the board's lower end", "the other corner of its lower end"),
    ),
}
SOURCES: Mapping[Source, str] = {
    "card_marks": "marking the card's corners",
    "end_marks": "marking the two ends",
    "focal": "the lens, how wide it sees",
    "lens": "the lens, how it bends",
    "height": "how deep the ends lie below the card",
    "tip": "how level the card lies",
    "card": "the card's own size",
    "ends": "where exactly an end is",
}


def marks_asked(name: str) -> tuple[str, ...]:
    """All that is to be marked for a length, in order."""
    return (*CORNERS, *ASKED[name].places)


def half_width(found: PhotoLength) -> float:
    """The width to each side that goes into the reading: read back as bounds, it stands for the same doubt."""
    return found.u_mm * 3**0.5


def length_words(found: PhotoLength) -> str:
    """'328.4 mm, give or take 2.9 mm'; nine in ten such photos are nearer."""
    return f"{with_unit(number(found.mm, 1), 'mm')}, give or take {with_unit(number(half_width(found), 1), 'mm')}"


def doubt_words(found: PhotoLength) -> str:
    """Where most of the doubt comes from, and what parallax was taken off."""
    first, second = (f"{SOURCES[source]} ({number(part, 1)} mm)" for source, part in found.parts[:2])
    told = f"Most of the doubt comes from {first} and {second}."
    if abs(found.taken_off_mm) < 0.1:
        return told
    way = "longer" if found.taken_off_mm > 0 else "shorter"
    away = with_unit(number(found.away_mm / 10, 0), "cm")
    off = with_unit(number(abs(found.taken_off_mm), 1), "mm")
    why = "as it does not lie level with the card; that is taken off"
    return f"{told} From {away} away it looked {off} {way} than it is, {why}."


def typed_reading(found: PhotoLength) -> str:
    """The reading as a person would type it: '328.4 +- 2.9'."""
    return f"{found.mm:.1f} +- {half_width(found):.1f}"
