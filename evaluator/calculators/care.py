"""Calculators about care and fittings: fine tuners and the next service."""

from collections.abc import Mapping
from datetime import date
from functools import partial
from math import sqrt

from ..lutherie.seasons import care
from ..rubric.knowledge import Seasons, Tuner
from .model import NO_SOURCE, Calculator, Given, IncompleteError, Input, Outcome, Result


def _tuner_mass(given: Given, kinds: Mapping[str, Tuner]) -> Outcome:
    counts = {kind: given.number(kind) for kind in kinds if given.has(kind)}
    if any(count != int(count) for count in counts.values()):
        raise IncompleteError("tuners are counted in whole numbers")
    if not counts:
        raise IncompleteError(f"give how many of a kind: {', '.join(kinds)}")
    masses = {kind: (one.low, one.likely, one.high) for kind, one in kinds.items()}
    low, likely, high = care.tuner_mass_g(counts, masses)
    also = (Result("low", "Light ones", low, "g"), Result("high", "Heavy ones", high, "g"))
    u = (high - low) / 2 / sqrt(3)  # only bounds are known: JCGM 100, 4.3.7
    return Outcome((Result("mass", "Weight that the tuners add", likely, "g", u),), also)


def tuner_mass(known: Seasons) -> Calculator:
    """The calculator for these kinds of fine tuners."""
    kinds = {one.tuner: one for one in known.tuners.kinds}
    return Calculator(
        "tuner_mass",
        "Weight of fine tuners",
        "What fine tuners of each kind add to a violin's tailpiece.",
        tuple(
            Input(kind, f"How many: {one.say.lower()}", low=0.0, high=12.0, doubt=False) for kind, one in kinds.items()
        ),
        partial(_tuner_mass, kinds=kinds),
        NO_SOURCE + "; remembered from shop scales",
        "For a violin; a cello's are heavier, and no figure is known here. No grounded model turns this weight into "
        "tone, loudness or pitch, so none is given. A letter scale knows better.",
        {"steel": "4"},
    )


def _service_due(given: Given) -> Outcome:
    hours, every_hours = given.number("hours_a_week"), given.number("every_hours")
    months = given.number("every_months")
    if months != int(months):
        raise IncompleteError("every_months is a whole number of months")
    due = care.service_due(hours, every_hours, months)
    also = [
        Result("weeks", "In weeks", due.days / 7, "week"),
        Result("by", "What comes first", due.by),
    ]
    if given.has("last"):
        last = date.fromisoformat(given.word("last"))
        on = care.service_date(last, hours, every_hours, int(months))
        also.append(Result("date", "Due on", on.isoformat()))
    return Outcome((Result("due", "Next service after", due.days, "day"),), tuple(also))


SERVICE_DUE = Calculator(
    "service_due",
    "Next service",
    f"When the next look-over is due: every {care.SERVICE_HOURS:g} hours of playing or {care.SERVICE_MONTHS} months, "
    "whichever comes first.",
    (
        Input("hours_a_week", "Playing hours a week", "h", required=True, low=0.0, high=168.0, valid=(0.0, 60.0)),
        Input("last", "Day of the last service", kind="date"),
        Input("every_hours", "Hours of playing between services", "h", default=f"{care.SERVICE_HOURS:g} h", above=0.0),
        Input(
            "every_months",
            "Months between services",
            default=f"{care.SERVICE_MONTHS}",
            low=1.0,
            high=120.0,
            doubt=False,
        ),
    ),
    _service_due,
    NO_SOURCE,
    "A habit of workshops, no law: many advise a year for little-played instruments. Have a new crack, a buzz or an "
    "open seam looked at when it comes, not when the service is due.",
    {"hours_a_week": "10", "last": "2024-08-31"},
    plot=("hours_a_week", 1.0, 25.0),
)

ALL = (SERVICE_DUE,)
