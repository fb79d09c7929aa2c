"""A bill as the XML that travels within its paper (EN 16931 as a Cross Industry Invoice, the profile of Factur-X).

The library writes it and holds it against its schema. It could also ask a server about the standard's rules: that is
turned off, for no bill leaves the computer by itself; tests hold the rules.
"""

from collections.abc import Sequence

from ...quoting.billing.bill import Bill, Payment
from ...quoting.billing.booked import missing, terms_of
from .tagged.metadata import clean


def bill_xml(bill: Bill, paid: Sequence[Payment]) -> bytes:
    """The file; empty where the bill is not given so, or lacks what the standard asks for (`missing` says what)."""
    if bill.form != "xml" or missing(bill):
        return b""
    from facturx import generate_cii_xml

    made: bytes = generate_cii_xml(_cleaned(terms_of(bill, paid)), level="en16931", check_schematron=None)
    return made


def _cleaned(value: object) -> object:
    """The terms with no character that XML does not take; a copy, for the library writes into what it is given."""
    if isinstance(value, dict):
        return {name: _cleaned(one) for name, one in value.items()}
    if isinstance(value, list):
        return [_cleaned(one) for one in value]
    return clean(value) if isinstance(value, str) else value
