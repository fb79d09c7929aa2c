"""The one reader of typed amounts of money: `1.450`, `1,450.00`, `1 450`, `1'450`, `1450,-`, `EUR 1450` are one price.

Money has at most two decimals (none or three in some currencies), so three digits behind a single mark are thousands.
What that does not settle is asked back with both readings: `1450.000`, and a thousand in a currency of three decimals.
A number of a file, as YAML or JSON writes it, has a decimal point: `1.450` without quotes is asked back there too.

Codes of currencies are those of ISO 4217; a sign that several share (the dollar's, the crown's) fits each of them.
"""

import math
import re
from decimal import Decimal

from ..money import Money, places_of
from ..problem import Message, Messages, Problem, problem
from .signs import figures, plain, shortly, sign_problem

MAX_LENGTH = 40
MOST = Decimal("999999999.99")
NOTHING = Decimal(0)

MESSAGES: Messages = {
    "money.empty": Message("no amount is written.", "Enter an amount, for example 780 or 780.50."),
    "money.not_an_amount": Message('"{text}" is not an amount.', "Enter an amount, for example 780 or 780.50."),
    "money.two_readings": Message(
        '"{text}" can be {first} or {second}.', "Write {first_plain} or {second_plain}, whichever is meant."
    ),
    "money.too_fine": Message(
        '"{text}" has more decimals than {currency} has ({places}).', "Enter an amount, for example {example}."
    ),
    "money.several_marks": Message(
        '"{text}" has its points and commas where no amount has them.', "Enter it without them, for example 1450.50."
    ),
    "money.other_currency": Message(
        '"{text}" is in another currency; {currency} is asked for here.', "Convert it, and enter it in {currency}."
    ),
    "money.negative": Message('"{text}" is less than nothing.', "Enter an amount of 0 or more."),
    "money.nothing": Message('"{text}" is no price.', "Enter an amount above 0, or leave it empty."),
    "money.too_large": Message('"{text}" is more than {most}.', "Check the amount."),
}

_ENDING = re.compile(r"[.,:] ?-{1,2}$")
_UNIT_BEFORE = re.compile(r"([^0-9.,'+\-() ][^0-9+\-()]*?) ?(?=[+\-(]? ?[.,]?[0-9])")
_UNIT_BEHIND = re.compile(r"(?<=[0-9.,\-)]) ?([^0-9.,'+\-() ][^0-9+\-()]*)$")
SIGNS: dict[str, tuple[str, ...]] = {
    "US$": ("USD",), "CA$": ("CAD",), "C$": ("CAD",), "CAN$": ("CAD",), "A$": ("AUD",), "AU$": ("AUD",),
    "NZ$": ("NZD",), "R$": ("BRL",), "MX$": ("MXN",), "HK$": ("HKD",), "S$": ("SGD",), "NT$": ("TWD",),
    "$": ("USD", "CAD", "AUD", "NZD", "MXN", "HKD", "SGD", "TWD", "ARS", "CLP", "COP"),
    "€": ("EUR",), "£": ("GBP",), "¥": ("JPY", "CNY"), "円": ("JPY",), "元": ("CNY",), "₹": ("INR",), "₩": ("KRW",),
    "₽": ("RUB",), "₺": ("TRY",), "₪": ("ILS",), "₴": ("UAH",), "kr": ("SEK", "NOK", "DKK", "ISK"),
    "kr.": ("DKK", "SEK", "NOK", "ISK"), "kč": ("CZK",), "zł": ("PLN",), "ft": ("HUF",), "lei": ("RON",),
    "fr": ("CHF",), "fr.": ("CHF",), "sfr": ("CHF",), "sfr.": ("CHF",),
    "euro": ("EUR",), "euros": ("EUR",), "pound": ("GBP",), "pounds": ("GBP",), "franken": ("CHF",),
    "francs": ("CHF",), "yen": ("JPY",), "dollar": ("USD", "CAD", "AUD", "NZD"),
    "dollars": ("USD", "CAD", "AUD", "NZD"),
}  # fmt: skip
_CODE = re.compile(r"[A-Za-z]{3}")
_LOWER = {sign.lower(): meant for sign, meant in SIGNS.items()}


def read_money(
    text: object,
    currency: str,
    where: str = "",
    *,
    least: Decimal | None = NOTHING,
    most: float | Decimal = MOST,
    above: bool = False,
) -> Money | Problem:
    """An amount in `currency`, or one sentence about why it is none.

    `least` is the least that it can be (None: it may be less than nothing), `above`: and it must be more than that.
    Numbers of YAML or JSON come in as int or float; a text of such a file that differs from its value stands in the
    float's `text`.
    """
    written = _written(text)
    if written is None:
        return problem(MESSAGES, "money.not_an_amount", where, None, text=shortly(str(text)))
    if strange := sign_problem(written, where):
        return strange
    if not plain(written):
        return problem(MESSAGES, "money.empty", where)
    found = _amounts(plain(written), currency, in_file=isinstance(text, int | float))
    if isinstance(found, str):
        places = places_of(currency)
        words = {"currency": currency, "places": places or "none", "example": "780.50" if places else "780"}
        return problem(MESSAGES, f"money.{found}", where, None, text=shortly(written), **words)
    if len(found) > 1:
        return _asked_back(written, found, currency, where)
    amount = found[0]
    code = _outside(amount, least, Decimal(most), above)
    if code:
        return problem(
            MESSAGES, f"money.{code}", where, text=shortly(written), most=say(Money(Decimal(most), currency))
        )
    return Money(amount.quantize(Decimal(1).scaleb(-max(2, places_of(currency)))), currency)


def say(money: Money) -> str:
    """'1,450.00 USD': an amount as it was understood."""
    return f"{money.amount:,.{places_of(money.currency)}f} {money.currency}"


def _outside(amount: Decimal, least: Decimal | None, most: Decimal, above: bool) -> str:
    if abs(amount) > most:
        return "too_large"
    if least is not None and amount < least:
        return "negative"
    return "nothing" if above and least is not None and amount == least else ""


def _written(text: object) -> str | None:
    """What was typed; None for what is neither text nor a finite number."""
    if isinstance(text, bool) or not isinstance(text, str | int | float | Decimal):
        return None
    if isinstance(text, float):
        return getattr(text, "text", repr(text)) if math.isfinite(text) else None
    return str(text) if len(str(text)) <= MAX_LENGTH else None


def _amounts(written: str, currency: str, *, in_file: bool) -> tuple[Decimal, ...] | str:
    """The amounts that a plain text can mean in a currency, or the kind of mistake in it."""
    negative = written.startswith("(") and written.endswith(")")
    rest = written[1:-1].strip() if negative else written
    rest, units = _without_units(rest)
    meant = [currencies_of(unit) for unit in units]
    if not all(meant):
        return "not_an_amount"
    if any(currency not in one for one in meant):
        return "other_currency"
    rest = _ENDING.sub("", rest)
    if rest and rest[0] in "+-":
        negative, rest = negative != (rest[0] == "-"), rest[1:].strip()
    found = figures(rest, places_of(currency))
    if isinstance(found, str):
        return "not_an_amount" if found == "not_a_number" else found
    if in_file and "." in rest:  # a file's point is decimal, whatever a person means by it
        if Decimal(rest) != round(Decimal(rest), places_of(currency)):
            return "too_fine"
        found = tuple(dict.fromkeys((*found, Decimal(rest))))
    return tuple(-one for one in found) if negative else found


def _without_units(written: str) -> tuple[str, list[str]]:
    """The text without the currency before and behind it, and these."""
    units = []
    sign, rest = (written[0], written[1:].strip()) if written and written[0] in "+-" else ("", written)
    before = _UNIT_BEFORE.match(rest)
    if before:
        units.append(before[1])
        rest = rest[before.end() :].strip()
    behind = _UNIT_BEHIND.search(rest)
    if behind:
        units.append(behind[1])
        rest = rest[: behind.start()].strip()
    return sign + rest, units


def _asked_back(written: str, found: tuple[Decimal, ...], currency: str, where: str) -> Problem:
    first, second = sorted(found, reverse=True)[:2]
    words = {"first": say(Money(first, currency)), "second": say(Money(second, currency))}
    words |= {"first_plain": _bare(first), "second_plain": _bare(second)}
    return problem(MESSAGES, "money.two_readings", where, None, text=shortly(written), **words)


def _bare(amount: Decimal) -> str:
    """An amount as it can be typed without any doubt: without thousands, and never with three decimals."""
    whole = amount == amount.to_integral_value()
    return f"{amount:.0f}" if whole else f"{amount.normalize():f}" + ("0" if -_exponent(amount) == 3 else "")


def _exponent(amount: Decimal) -> int:
    found = amount.normalize().as_tuple().exponent
    return found if isinstance(found, int) else 0


def currencies_of(written: str) -> tuple[str, ...]:
    """The currencies that a sign, word or code can mean; none where it is no currency."""
    low = written.strip().lower()
    if low in _LOWER:
        return _LOWER[low]
    return (low.upper(),) if _CODE.fullmatch(low) else ()
