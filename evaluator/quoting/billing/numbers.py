"""The numbers of bills and receipts: a series as the workshop writes it, counted without a gap."""

from datetime import date

BILLS, RECEIPTS = "B{year}-{number}", "R{year}-{number}"


def series_of(pattern: str, on: date) -> str:
    """The name of the series that counts on this day: the pattern with its year, where it has one."""
    return pattern.replace("{year}", str(on.year))


def number_of(series: str, place: int) -> str:
    """'B2026-0007' for the seventh of its series."""
    return series.replace("{number}", f"{place:04d}")
