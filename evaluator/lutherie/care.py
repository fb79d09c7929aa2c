"""Care: when the next service falls due, and what fine tuners weigh. Common practice of the trade, no source."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date, timedelta

SERVICE_HOURS = 200.0
SERVICE_MONTHS = 6.0
DAYS_PER_MONTH = 365.2425 / 12

# Grams of one fine tuner. Steel from weighing in workshops; light alloys and titanium weigh about a third of steel.
TUNER_MASS_G: Mapping[str, float] = {
    "steel": 12.0,
    "aluminium": 4.0,
    "titanium": 4.5,
    "built_in_carbon": 2.0,
    "none": 0.0,
}
TUNER_DOUBT_SHARE = 0.3  # makes differ; the spread is a guess and said so


@dataclass(frozen=True, slots=True)
class Service:
    """Weeks until the next service, and which of the two limits came first."""

    weeks: float
    by: str


def service_due(
    hours_a_week: float, every_hours: float = SERVICE_HOURS, every_months: float = SERVICE_MONTHS
) -> Service:
    """Every 200 playing hours or six months, whichever comes first."""
    by_time = every_months * DAYS_PER_MONTH / 7
    if hours_a_week <= 0 or every_hours / hours_a_week >= by_time:
        return Service(by_time, "months")
    return Service(every_hours / hours_a_week, "playing hours")


def service_date(last: date, service: Service) -> date:
    """The day on which it falls due."""
    return last + timedelta(weeks=service.weeks)


def tuner_mass_g(kinds: Mapping[str, int]) -> float:
    """Mass of so many tuners of each kind; KeyError for an unknown kind."""
    return sum(TUNER_MASS_G[kind] * count for kind, count in kinds.items())
