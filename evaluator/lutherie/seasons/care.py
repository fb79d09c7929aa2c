"""Care: when the next service falls due, and what fine tuners weigh. Common practice of the trade, no source."""

from calendar import monthrange
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date, timedelta

# The one home of this habit in the program; the default shop file says it for a workshop to change.
SERVICE_HOURS = 200.0
SERVICE_MONTHS = 6
DAYS_PER_MONTH = 365.2425 / 12


@dataclass(frozen=True, slots=True)
class Tuner:
    """Mass in grams of one fine tuner of a violin: between near-limits `low` and `high`, most often `likely`."""

    say: str
    low: float
    likely: float
    high: float


# Remembered from shop scales, no source; for a violin. Of one shape, aluminium weighs about a third of steel and
# titanium about 0.6 (densities 2.7, 4.5 and 7.85 g/cm3), but shapes differ more than that.
TUNERS: Mapping[str, Tuner] = {
    "steel": Tuner("Clip-on, steel", 3.0, 4.0, 6.0),
    "aluminium": Tuner("Clip-on, aluminium", 1.0, 1.5, 2.5),
    "titanium": Tuner("Clip-on, titanium", 1.5, 2.3, 3.5),
    "built_in": Tuner("Built into the tailpiece", 1.0, 2.0, 4.0),
}


@dataclass(frozen=True, slots=True)
class Service:
    """Days until the next service, and which of the two limits comes first."""

    days: float
    by: str


def service_due(
    hours_a_week: float, every_hours: float = SERVICE_HOURS, every_months: float = SERVICE_MONTHS
) -> Service:
    """Every 200 playing hours or six months of average length, whichever comes first."""
    by_time = every_months * DAYS_PER_MONTH
    by_playing = 7 * every_hours / hours_a_week if hours_a_week > 0 else float("inf")
    return Service(by_playing, "playing hours") if by_playing < by_time else Service(by_time, "months")


def months_later(day: date, months: int) -> date:
    """The same day so many calendar months later, or the last day of a shorter month."""
    years, month = divmod(day.month - 1 + months, 12)
    year = day.year + years
    return date(year, month + 1, min(day.day, monthrange(year, month + 1)[1]))


def service_date(
    last: date, hours_a_week: float, every_hours: float = SERVICE_HOURS, every_months: int = SERVICE_MONTHS
) -> date:
    """The day on which the service falls due, the calendar's months counted."""
    by_time = months_later(last, every_months)
    if hours_a_week <= 0 or 7 * every_hours / hours_a_week >= (by_time - last).days:
        return by_time
    return last + timedelta(days=int(7 * every_hours / hours_a_week))


def tuner_mass_g(counts: Mapping[str, float]) -> tuple[float, float, float]:
    """(low, likely, high) mass of so many tuners of each kind; KeyError for an unknown kind.

    Lows and highs are added: the tuners of one tailpiece are usually of one make, so they err together.
    """
    kinds = [(TUNERS[kind], count) for kind, count in counts.items()]
    return (
        sum(kind.low * count for kind, count in kinds),
        sum(kind.likely * count for kind, count in kinds),
        sum(kind.high * count for kind, count in kinds),
    )
