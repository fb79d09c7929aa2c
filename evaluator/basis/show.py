"""How numbers, units, doubt and money are written for people: the one home of formatting."""

from decimal import Decimal
from functools import cache
from math import floor, log10

DIGITS = {"in": 3}  # a thousandth of an inch is 0.025 mm; else two
UNIT_WORDS = {"ratio": "", "deg": "°"}
SIGNS = {"USD": "$", "EUR": "€", "GBP": "£"}


@cache
def _sign(currency: str) -> str:
    """The sign of a currency, else its code. Babel knows them all, but asking it first costs 12 ms."""
    if currency in SIGNS:
        return SIGNS[currency]
    from babel.numbers import get_currency_symbol

    found: str = get_currency_symbol(currency, locale="en")
    return found


def money(amount: float | Decimal, currency: str, *, cents: bool = False) -> str:
    """'$1,250' for an estimate, '$1,250.00' where `cents` are charged; negative amounts with a leading minus."""
    value = Decimal(str(amount))
    figures = f"{abs(value):,.2f}" if cents else f"{abs(value):,.0f}"
    return f"{'-' if value < 0 else ''}{_sign(currency)}{figures}"


def number(value: float, digits: int = 2) -> str:
    """Fixed digits without trailing zeros: 54.50 -> '54.5'."""
    text = f"{value:,.{digits}f}"
    return text.rstrip("0").rstrip(".") if "." in text else text


def figure(value: float, unit: str) -> str:
    """'54.5 mm', '2.146 in': a figure with its unit, to the hundredth, or as fine where the unit is large."""
    return with_unit(bare_figure(value, unit), unit)


def bare_figure(value: float, unit: str) -> str:
    """The same without its unit."""
    return number(value, DIGITS.get(unit, 2))


def with_unit(text: str, unit: str) -> str:
    """'54.5 mm', '12°', or the bare number for a ratio."""
    word = UNIT_WORDS.get(unit, unit)
    return f"{text}{word}" if word in {"", "°"} else f"{text} {word}"


def doubtful(value: float, u: float, unit: str) -> str:
    """A reading with twice its standard uncertainty, both to the place of its doubt: '327.5 ± 0.6 mm'."""
    if u <= 0:
        return with_unit(number(value), unit)
    digits = max(0, -floor(log10(2 * u)))
    if round(2 * u, digits) >= 2 * 10**-digits or digits == 0:
        spread = f"{2 * u:.{digits}f}"
    else:
        digits += 1
        spread = f"{2 * u:.{digits}f}"
    return with_unit(f"{value:,.{digits}f} ± {spread}", unit)


def chance(probability: float) -> str:
    """A probability in words and a rounded share: 'about 3 in 4'."""
    steps = (
        (0.02, "hardly any chance"),
        (0.075, "about 1 in 20"),
        (0.15, "about 1 in 10"),
        (0.225, "about 1 in 5"),
        (0.29, "about 1 in 4"),
        (0.42, "about 1 in 3"),
        (0.58, "about even"),
        (0.71, "about 2 in 3"),
        (0.775, "about 3 in 4"),
        (0.85, "about 4 in 5"),
        (0.925, "about 9 in 10"),
        (0.98, "about 19 in 20"),
    )
    return next((words for limit, words in steps if probability < limit), "nearly certain")


def minutes(value: float) -> str:
    """'half a minute', '2 minutes', '1 h 30 min'."""
    if value < 0.75:
        return "half a minute"
    if value < 60:
        whole = round(value)
        return f"{whole} minute" + ("" if whole == 1 else "s")
    hours, rest = divmod(round(value), 60)
    return f"{hours} h" + (f" {rest} min" if rest else "")


def hours(value: float) -> str:
    """'1 h 15 min' at the bench, to the minute; '45 min' below one hour, 'under 1 min' for what is hardly any."""
    whole, rest = divmod(round(value * 60), 60)
    if not whole and not rest:
        return "under 1 min" if value > 0 else "0 min"
    return " ".join([f"{whole} h"] * bool(whole) + [f"{rest} min"] * bool(rest))


def clock(value: float) -> str:
    """The same in a column of figures: '1:15', '0:45'; what is above nothing is at least '0:01'."""
    whole, rest = divmod(max(round(value * 60), 1 if value > 0 else 0), 60)
    return f"{whole}:{rest:02d}"


MONTHS = (
    "January", "February", "March", "April", "May", "June", "July", "August", "September", "October", "November",
    "December",
)  # fmt: skip


def day(iso: str) -> str:
    """'25 November 2026' from an ISO date or time; a text that is none comes back as it is."""
    year, _, rest = iso[:10].partition("-")
    month, _, date = rest.partition("-")
    if not (year.isdecimal() and month.isdecimal() and date.isdecimal() and 1 <= int(month) <= 12):
        return iso
    return f"{int(date)} {MONTHS[int(month) - 1]} {year}"


@cache
def country_named(code: str) -> str | None:
    """'Germany' for 'DE' (ISO 3166-1, two letters); None where no country has the letters."""
    from babel import Locale

    known = len(code) == 2 and code not in ("EU", "EZ", "QO", "UN", "XA", "XB", "ZZ")
    found: str | None = Locale("en").territories.get(code) if known else None
    return found
