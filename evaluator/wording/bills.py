"""Words that the pages and papers of a bill share."""

from ..basis import show
from ..basis.money import Money
from ..quoting.billing.bill import HOW_PAID, Bill, Payment
from .quotes import LEAST, cents

TITLES = {"bill": "Bill", "credit": "Credit note"}
TAX = {"work": "Tax on work", "parts": "Tax on parts", "all": "Tax"}
LOCAL_RULES = (
    "Look up what your place asks of a bill: tax number and rates, words for an exemption or for goods bought used, "
    "how long a copy is kept, a register for cash, and whether a business needs it in another form. This is no cash "
    "register."
)


def title_of(bill: Bill) -> str:
    """'Bill B2026-0007', 'Credit note B2026-0008'; without a number 'Bill'."""
    return f"{TITLES[bill.kind]} {bill.number}".strip()


def sums_of(bill: Bill) -> tuple[tuple[str, str], ...]:
    """What stands below the lines and adds up with them to the total: haste, least charge, taxes, rounding."""
    rows = [("For haste", bill.haste), (LEAST, bill.least)]
    if bill.prices == "net":
        rows += [(f"{TAX[row.what]}, {_percent(row.rate)} of {cents(row.base)}", row.tax) for row in bill.taxes]
    rows.append(("Rounding", bill.rounding))
    return tuple((say, cents(amount)) for say, amount in rows if amount.amount)


def taxes_in(bill: Bill) -> tuple[tuple[str, str], ...]:
    """The taxes that are in the total of a bill whose prices have them, by rate, with what they are on."""
    if bill.prices == "net":
        return ()
    return tuple(
        (f"In it: {TAX[row.what].lower()}, {_percent(row.rate)} of {cents(row.base)}", cents(row.tax))
        for row in bill.taxes
    )


def paid_words(one: Payment) -> str:
    """'Paid on 3 March 2026 in cash, receipt R2026-0001'."""
    how = HOW_PAID.get(one.how, one.how)
    return f"Paid on {show.day(one.on.isoformat())} {how}, receipt {one.number}"


def due_words(due: Money) -> str:
    return "Goes back to you" if due.amount < 0 else "Left to pay"


def took_sentence(bill: Bill) -> str:
    """What was promised and what it took, in money and in hours."""
    said = f"Agreed were {cents(bill.promised)}; it comes to {cents(bill.total)}."
    reckoned, took = bill.hours
    if reckoned and took:
        said += f" Reckoned were {show.hours(reckoned)} at the bench, and it took {show.hours(took)}."
    return said


def _percent(rate: float) -> str:
    return f"{show.number(100 * rate, 3)} %"
