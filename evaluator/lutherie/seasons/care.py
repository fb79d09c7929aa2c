"""Care: when the next service falls due, and what fine tuners add to the tailpiece.

A played instrument is looked over after so many playing hours, one that lies in its case after so many months. Common
practice of the trade, no source.
"""

from calendar import monthrange
from collections.abc import Mapping
from datetime import date, timedelta

from ...basis.frozen import dataclass

# The one home of this habit in the program; the default shop file says it for a workshop to change.
SERVICE_HOURS = 200.0
SERVICE_MONTHS = 6
DAYS_PER_MONTH = 365.2425 / 12


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


Masses = tuple[float, float, float]


def tuner_mass_g(counts: Mapping[str, float], masses: Mapping[str, Masses]) -> Masses:
    """(low, likely, high) mass of so many tuners of each kind, of whom one weighs as in `masses`; KeyError for others.

    Lows and highs are added: the tuners of one tailpiece are usually of one make, so they err together.
    """
    low, likely, high = (sum(masses[kind][at] * count for kind, count in counts.items()) for at in range(3))
    return low, likely, high
