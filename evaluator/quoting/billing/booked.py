"""A bill as the terms of the European standard for invoices (EN 16931), by their numbers there: BT-1, BG-25.

Amounts are those of the paper, to the cent; a credit note's are turned round, as the standard has them. Labour and
parts of a line are lines of their own where their rates differ, for the standard sums by rate. Where the prices have
their tax in them, the paper shows no net price of a line: then the lines are moved by a cent each, the largest first,
until they add up to what was taxed. The standard was not read itself; its terms, rules and schema are those of the
library that writes the file.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date
from decimal import Decimal
from typing import TypeAlias

from ...basis.money import Money, total_of
from ...basis.problem import Message, Messages, Problem, problem
from ...basis.show import country_named
from .bill import Bill, Payment, TaxRow

Term: TypeAlias = "str | date | Terms | list[Terms]"
Terms: TypeAlias = "dict[str, Term]"
MESSAGES: Messages = {
    "xml.country": Message("no country is set.", "Write it in My shop, Name and address: two letters, as DE."),
    "xml.no_country": Message("“{typed}” is no country's letters.", "Write two letters, as DE, FR or US."),
    "xml.address": Message("no address is set.", "Write it in My shop, Name and address."),
    "xml.tax_number": Message("no tax number is set.", "Write it in My shop, Name and address."),
    "xml.why_no_tax": Message(
        "nothing says why no tax is charged.", "Write it in My shop, Money and terms, in the words of your place."
    ),
}
STANDARD = "urn:cen.eu:en16931:2017"
KINDS = {"bill": "380", "credit": "381"}
CREDIT_TRANSFER = "30"
ONE = "C62"  # a piece, by UN/ECE Recommendation 20
CENT = Decimal("0.01")
ALSO_PREFIXES = ("EL", "XI")  # of numbers for tax, beside the codes of countries


@dataclass(frozen=True, slots=True)
class Piece:
    """What stands at one rate: a line, or a charge on all (`charge`); `net` without tax."""

    say: str
    units: int
    net: Money
    rate: float
    charge: bool = False


def missing(bill: Bill) -> tuple[Problem, ...]:
    """What the standard asks for and this bill does not say, each with where to write it."""
    seller, found = bill.seller, []
    if seller.country is None:
        found.append(problem(MESSAGES, "xml.country", "the shop"))
    found += [
        problem(MESSAGES, "xml.no_country", where, typed=code)
        for where, code in (("the shop", seller.country), ("the buyer", bill.asked.country))
        if code and country_named(code) is None
    ]
    if not seller.address:
        found.append(problem(MESSAGES, "xml.address", "the shop"))
    if not seller.tax_number:
        found.append(problem(MESSAGES, "xml.tax_number", "the shop"))
    if not seller.no_tax_because and any(not row.rate for row in bill.taxes):
        found.append(problem(MESSAGES, "xml.why_no_tax", "the shop"))
    return tuple(found)


def terms_of(bill: Bill, paid: Sequence[Payment]) -> Terms:
    """The terms of a bill that lacks nothing; `paid` are the payments that its paper shows."""
    sign = -1 if bill.kind == "credit" else 1
    pieces = [replace(one, net=_times(sign, one.net)) for one in _pieces(bill)]
    lines = [one for one in pieces if not one.charge]
    found: Terms = {
        "BT-1": bill.number,
        "BT-2": bill.on,
        "BT-3": KINDS[bill.kind],
        "BT-5": bill.total.currency,
        "BT-9": bill.pay_until,
        "BT-14": ", ".join(bill.order),
        "BT-24": STANDARD,
        "BT-72": bill.done_on,
        "BT-83": bill.number,
        "BG-1": [{"BT-22": text} for text in (bill.about, bill.reason, bill.note) if text],
        "BG-4": _seller(bill),
        "BG-7": _buyer(bill),
        "BG-21": [_charge(one) for one in pieces if one.charge],
        "BG-23": [_by_rate(rate, bill, sign) for rate in _rates(bill)],
        "BG-25": [_line(place, one) for place, one in enumerate(lines, 1)],
        **_totals(bill, pieces, paid, sign),
    }
    more = {"BT-10": bill.asked.reference, "BT-13": bill.asked.order}
    if bill.seller.account and bill.kind == "bill":
        more |= {"BT-81": CREDIT_TRANSFER, "BT-84": bill.seller.account}
    found |= {name: text for name, text in more.items() if text}
    if bill.corrects:
        found["BG-3"] = [{"BT-25": bill.corrects}]
    return found


def _pieces(bill: Bill) -> list[Piece]:
    """All that is charged, by rate, so that what has one rate adds up to what is taxed at it."""
    work, parts = _rate(bill, "work"), _rate(bill, "parts")
    found: list[Piece] = []
    for line in bill.lines:
        if work == parts:
            found.append(Piece(line.say, line.units, line.labour + line.parts, work))
            continue
        halves = [(f"{line.say}: work", 1, line.labour, work), (f"{line.say}: parts", line.units, line.parts, parts)]
        found += [Piece(*half) for half in halves if half[2].amount]
    charges = [("For haste", bill.haste), ("Up to the least charge for an order", bill.least)]
    found += [Piece(say, 1, _without_tax(bill, one, work), work, True) for say, one in charges if one.amount]
    return [one for rate in _rates(bill) for one in _levelled([p for p in found if p.rate == rate], _base(bill, rate))]


def _levelled(pieces: list[Piece], base: Money) -> list[Piece]:
    """The same, moved by a cent each, the largest first, until they add up to the base."""
    lacks = base - total_of((one.net for one in pieces), base.currency)
    step = Money(CENT if lacks.amount > 0 else -CENT, base.currency)
    order = sorted(range(len(pieces)), key=lambda place: -abs(pieces[place].net.amount))
    for turn in range(int(abs(lacks.amount) / CENT)):
        place = order[turn % len(order)]
        pieces[place] = replace(pieces[place], net=pieces[place].net + step)
    return pieces


def _without_tax(bill: Bill, charge: Money, rate: float) -> Money:
    if bill.prices == "net":
        return charge
    return Money(charge.amount / (1 + Decimal(repr(rate))), charge.currency).rounded()


def _rate(bill: Bill, what: str) -> float:
    """At which rate work or parts are taxed; where no row says it, nothing stands at it."""
    return next((row.rate for row in bill.taxes if row.what in (what, "all")), bill.taxes[0].rate)


def _rates(bill: Bill) -> list[float]:
    return sorted({row.rate for row in bill.taxes}, reverse=True)


def _rows(bill: Bill, rate: float) -> list[TaxRow]:
    return [row for row in bill.taxes if row.rate == rate]


def _base(bill: Bill, rate: float) -> Money:
    return total_of((row.base for row in _rows(bill, rate)), bill.total.currency)


def _by_rate(rate: float, bill: Bill, sign: int) -> Terms:
    tax = total_of((row.tax for row in _rows(bill, rate)), bill.total.currency)
    found: Terms = {
        "BT-116": _text(_times(sign, _base(bill, rate))),
        "BT-117": _text(_times(sign, tax)),
        "BT-118": _category(rate),
        "BT-119": _percent(rate),
    }
    if not rate:
        found["BT-120"] = bill.seller.no_tax_because or ""
    return found


def _line(place: int, one: Piece) -> Terms:
    """A line; what is taken off has a quantity below zero, for a price may not be."""
    net = abs(one.net.amount)
    each = net / one.units
    parted = each != each.quantize(Decimal("0.0001"))
    found: Terms = {
        "BT-126": str(place),
        "BT-129": str(one.units if one.net.amount >= 0 else -one.units),
        "BT-130": ONE,
        "BT-131": _text(one.net),
        "BT-146": f"{net:.2f}" if parted else f"{each:.4f}",
        "BT-151": _category(one.rate),
        "BT-152": _percent(one.rate),
        "BT-153": one.say,
    }
    if parted:
        found["BT-149"] = str(one.units)
    return found


def _charge(one: Piece) -> Terms:
    return {
        "amount": _text(one.net),
        "reason": one.say,
        "vat_category_code": _category(one.rate),
        "vat_rate": _percent(one.rate),
    }


def _totals(bill: Bill, pieces: Sequence[Piece], paid: Sequence[Payment], sign: int) -> Terms:
    currency = bill.total.currency
    lines = total_of((one.net for one in pieces if not one.charge), currency)
    charges = total_of((one.net for one in pieces if one.charge), currency)
    tax = _times(sign, total_of((row.tax for row in bill.taxes), currency))
    before = total_of((one.amount for one in paid), currency)
    found: Terms = {
        "BT-106": _text(lines),
        "BT-109": _text(lines + charges),
        "BT-110": _text(tax),
        "BT-112": _text(lines + charges + tax),
        "BT-115": _text(_times(sign, bill.total) - before),
    }
    more = {"BT-108": charges, "BT-113": before, "BT-114": _times(sign, bill.rounding)}
    return found | {name: _text(amount) for name, amount in more.items() if amount.amount}


def _seller(bill: Bill) -> Terms:
    seller = bill.seller
    number = seller.tax_number or ""
    bare = "".join(char for char in number if char.isalnum()).upper()
    known = bare[:2] in ALSO_PREFIXES or country_named(bare[:2]) is not None
    of_vat = known and any(char.isdigit() for char in bare[2:])
    tax: Mapping[str, str] = {"vat_identifier": bare} if of_vat else {"tax_identifier": number}
    return {"name": seller.name, "country_code": seller.country or "", **_address(seller.address), **tax}


def _buyer(bill: Bill) -> Terms:
    country = bill.asked.country or bill.seller.country or ""
    return {"name": bill.buyer[0], "country_code": country, **_address(bill.buyer[1:])}


def _address(lines: Sequence[str]) -> dict[str, str]:
    """The lines of a letter; what is more than three stands on the third."""
    found = [*lines[:2], ", ".join(lines[2:])]
    return {f"addr_l{place}": line for place, line in enumerate(found, 1) if line}


def _category(rate: float) -> str:
    return "S" if rate else "E"


def _percent(rate: float) -> str:
    """'19.00' for 0.19; more digits where the rate has them."""
    percent = Decimal(repr(rate)) * 100
    return f"{percent:.2f}" if percent == percent.quantize(CENT) else f"{percent.normalize():f}"


def _times(sign: int, amount: Money) -> Money:
    return Money(amount.amount * sign, amount.currency)


def _text(amount: Money) -> str:
    return f"{amount.amount:.2f}".replace("-0.00", "0.00")
