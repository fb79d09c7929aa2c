"""How people write a currency, and how many decimals it has.

Codes are those of ISO 4217; a sign that several currencies share (the dollar's, the crown's) fits each of them. The
decimals are those that are used in shops: a forint has none, though the standard gives it two.
"""

import re

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
NO_DECIMALS = frozenset({"JPY", "KRW", "ISK", "HUF", "CLP", "VND", "PYG", "UGX", "XAF", "XOF"})
THREE_DECIMALS = frozenset({"BHD", "IQD", "JOD", "KWD", "LYD", "OMR", "TND"})
SHOWN = 2

_CODE = re.compile(r"[A-Za-z]{3}")
_LOWER = {sign.lower(): meant for sign, meant in SIGNS.items()}


def places_of(currency: str) -> int:
    """How many decimals an amount of this currency can have."""
    if currency in NO_DECIMALS:
        return 0
    return 3 if currency in THREE_DECIMALS else SHOWN


def currencies_of(written: str) -> tuple[str, ...]:
    """The currencies that a sign, word or code can mean; none where it is no currency."""
    low = written.strip().lower()
    if low in _LOWER:
        return _LOWER[low]
    return (low.upper(),) if _CODE.fullmatch(low) else ()
