"""The one reader of typed hours: `1:15`, `1 h 15`, `75 min`, `1,25`, `1.25 h` and `1 1/4` are one time.

No job and no week has a thousand hours, so three digits behind a mark are decimals and never thousands: nothing is
ambiguous. A day is refused, because a day at the bench is not a day of the calendar.
"""

import re

from ..problem import Message, Messages, Problem, problem
from .signs import plain, shortly, sign_problem

MAX_LENGTH = 40
MOST = 500.0  # no job at a bench takes longer

MESSAGES: Messages = {
    "hours.empty": Message("no time is written.", "Enter hours, for example 1.5 or 1:30."),
    "hours.not_a_time": Message('"{text}" is no number of hours.', "Enter hours, for example 1.5, 1:30 or 90 min."),
    "hours.day": Message('"{text}" is in days, and a day at work has no fixed length.', "Enter hours, for example 8."),
    "hours.minutes": Message('"{text}" has more than 59 minutes.', "Enter hours, for example 1:30 or 90 min."),
    "hours.outside": Message('"{text}" is not between {least} and {most}.', "Check the hours."),
    "hours.nothing": Message('"{text}" is no time.', "Enter hours above 0, or leave it empty."),
}

_HOUR = r"(?:h|hr|hrs|hours?|std|stunden?)\.?"
_MINUTE = r"(?:m|min|mins|minutes?|minuten?|')\.?"
_FRACTION = r"(?:(?P<whole>[0-9]{1,4}) )?(?P<over>[0-9]{1,4}) ?/ ?(?P<under>[0-9]{1,4})"
_AMOUNT = rf"{_FRACTION}|(?P<decimal>[0-9]{{1,6}}(?:[.,][0-9]{{0,6}})?|[.,][0-9]{{1,6}})"
_CLOCK = re.compile(rf"(?P<h>[0-9]{{1,3}}):(?P<m>[0-9]{{2}})(?::(?P<s>[0-9]{{2}}))? ?(?:{_HOUR})?")
_BOTH = re.compile(rf"(?P<h>[0-9]{{1,3}}) ?{_HOUR} ?(?:and |und )?(?P<m>[0-9]{{1,2}}) ?(?:{_MINUTE})?")
_HOURS = re.compile(rf"(?:{_AMOUNT}) ?(?:{_HOUR})?")
_MINUTES = re.compile(rf"(?:{_AMOUNT}) ?{_MINUTE}")
_DAYS = re.compile(r"[0-9 .,/]+ ?(?:d|days?|tage?)")


def read_hours(
    text: object, where: str = "", *, least: float = 0.0, most: float = MOST, above: bool = False
) -> float | Problem:
    """Hours from `least` to `most` (`above`: and more than `least`), or one sentence about why there are none."""
    if isinstance(text, bool) or not isinstance(text, str | int | float) or len(str(text)) > MAX_LENGTH:
        return problem(MESSAGES, "hours.not_a_time", where, text=shortly(str(text)))
    if strange := sign_problem(str(text), where):
        return strange
    written = plain(str(text)).lower()
    if not written:
        return problem(MESSAGES, "hours.empty", where)
    found = _hours(written) if isinstance(text, str) else float(text)
    shown = shortly(str(text))
    if isinstance(found, str):
        return problem(MESSAGES, f"hours.{found}", where, text=shown)
    if above and found == least:
        return problem(MESSAGES, "hours.nothing", where, text=shown)
    if not least <= found <= most:
        return problem(MESSAGES, "hours.outside", where, text=shown, least=f"{least:g}", most=f"{most:g}")
    return found


def _hours(written: str) -> float | str:
    """The hours of a plain text in small letters, or the kind of mistake in it."""
    clock = _CLOCK.fullmatch(written) or _BOTH.fullmatch(written)
    if clock:
        minutes, seconds = int(clock["m"]), int(clock.groupdict().get("s") or 0)
        return "minutes" if max(minutes, seconds) > 59 else int(clock["h"]) + minutes / 60 + seconds / 3600
    if minutes_alone := _MINUTES.fullmatch(written):
        value = _value(minutes_alone)
        return "not_a_time" if value is None else value / 60
    if hours_alone := _HOURS.fullmatch(written):
        value = _value(hours_alone)
        return "not_a_time" if value is None else value
    return "day" if _DAYS.fullmatch(written) else "not_a_time"


def _value(match: re.Match[str]) -> float | None:
    """The number before the unit; None for a fraction over zero."""
    if match["decimal"]:
        return float(match["decimal"].replace(",", "."))
    under = int(match["under"])
    return int(match["whole"] or 0) + int(match["over"]) / under if under else None
