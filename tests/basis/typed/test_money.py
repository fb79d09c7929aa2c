"""One price in every way that people write it; what can be two prices is asked back, what is none is told."""

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from evaluator.basis.document import parse_document
from evaluator.basis.money import Money
from evaluator.basis.problem import Problem
from evaluator.basis.typed.money import read_money, say

ONE_PRICE = (
    "1450", "1.450", "1,450", "1 450", "1'450", "1\u2019450", "1\u202f450", "1\u00a0450,00", "1,450.00", "1.450,00",
    "1450.", "1450,0", "1450.0000", "1,450.000", "01450", "1450,-", "1450.-", "1450,--", "1450,\u2014", "1450:-",
    "+1450", " 1450 ", "１４５０", "１，４５０",
)  # fmt: skip
WITH_UNITS = {
    "USD": ("$1450", "$ 1,450.00", "1450 $", "US$1.450", "USD 1450", "1450 usd", "1450 dollars", "$1450 USD"),
    "EUR": ("€1450", "1.450,00 €", "EUR 1450", "1450 euro", "€ 1.450,-", "1\u202f450\u00a0€"),
    "CHF": ("Fr. 1\u2019450.50"[:-3] + ".--", "CHF 1'450.--", "sFr. 1450"),
    "GBP": ("£1450", "GBP 1,450", "1450 pounds"),
    "SEK": ("1 450 kr", "1450:- kr", "SEK 1450"),
    "JPY": ("¥1,450", "1450円", "1.450", "1450.00", "￥1450"),
}


@pytest.mark.parametrize("text", ONE_PRICE)
@pytest.mark.parametrize("currency", ["USD", "EUR", "CHF", "PLN"])
def test_one_price(text: str, currency: str) -> None:
    assert read_money(text, currency) == Money(Decimal("1450.00"), currency)


@pytest.mark.parametrize(("currency", "text"), [(one, text) for one, texts in WITH_UNITS.items() for text in texts])
def test_one_price_with_its_currency(currency: str, text: str) -> None:
    assert read_money(text, currency) == Money(Decimal("1450.00"), currency)


@pytest.mark.parametrize(
    ("text", "amount"),
    [
        ("1,5", "1.50"), ("1.50", "1.50"), (".5", "0.50"), (",50", "0.50"), ("0", "0.00"), ("0.450", "0.45"),
        ("1.450,5", "1450.50"), ("1,450.55", "1450.55"), ("1 450,55", "1450.55"), ("12.345.678", "12345678.00"),
        ("14,50,000.00", "1450000.00"), ("-5", "-5.00"), ("\u22125", "-5.00"), ("($1,450.00)", "-1450.00"),
        ("-$5", "-5.00"), ("$-5", "-5.00"), (1450, "1450.00"), (1450.5, "1450.50"), (Decimal("1450.5"), "1450.50"),
    ],
)  # fmt: skip
def test_other_amounts(text: object, amount: str) -> None:
    assert read_money(text, "USD", least=None) == Money(Decimal(amount), "USD")


@pytest.mark.parametrize(
    ("text", "currency", "told"),
    [
        ("1450.000", "USD", '"1450.000" can be 1,450,000.00 USD or 1,450.00 USD. Write 1450000 or 1450, whichever is '
         "meant."),
        ("1 450,000", "EUR", '"1 450,000" can be 1,450,000.00 EUR or 1,450.00 EUR. Write 1450000 or 1450, whichever is '
         "meant."),
        ("1.450", "KWD", '"1.450" can be 1,450.000 KWD or 1.450 KWD. Write 1450 or 1.45, whichever is meant.'),
        ("1.455", "KWD", '"1.455" can be 1,455.000 KWD or 1.455 KWD. Write 1455 or 1.4550, whichever is meant.'),
    ],
)  # fmt: skip
def test_two_readings_are_asked_back(text: str, currency: str, told: str) -> None:
    found = read_money(text, currency, "Price")
    assert str(found) == f"Price: {told}"
    for way in told.split("Write ")[1].split(", ", maxsplit=1)[0].split(" or "):
        assert isinstance(read_money(way, currency), Money), "what is proposed can be read"


@pytest.mark.parametrize(
    ("text", "code"),
    [
        ("", "empty"), ("  ", "empty"), ("a lot", "not_an_amount"), ("$", "not_an_amount"), (".", "not_an_amount"),
        ("12 15/16", "not_an_amount"), ("1e3", "not_an_amount"), ("2k", "not_an_amount"), ("NaN", "not_an_amount"),
        ("1450 $ each", "not_an_amount"), ("1450-", "not_an_amount"), ("--5", "not_an_amount"),
        ("1_450", "not_an_amount"), ("1-2", "not_an_amount"), ("٣", "not_an_amount"), ("1 45", "not_an_amount"),
        ("1'45", "not_an_amount"),
        ("9" * 60, "not_an_amount"), (True, "not_an_amount"), (None, "not_an_amount"), (float("nan"), "not_an_amount"),
        ("1,450,5", "several_marks"), ("1.45.0", "several_marks"), ("1 450 5", "several_marks"),
        ("1.450.00", "several_marks"), ("1450.555", "too_fine"), ("0.455", "too_fine"), (1.455, "too_fine"),
        ("€1450", "other_currency"), ("1450 EUR", "other_currency"), ("CA$ 10", "other_currency"),
        ("-5", "negative"), ("1000000000", "too_large"),
    ],
)  # fmt: skip
def test_what_is_no_amount(text: object, code: str) -> None:
    found = read_money(text, "USD")
    assert isinstance(found, Problem) and found.code == f"money.{code}", found
    assert found.what_to_do or code == "too_large"


def test_bounds() -> None:
    assert getattr(read_money("0", "USD", above=True), "code", "") == "money.nothing"
    assert getattr(read_money("101", "USD", most=100), "code", "") == "money.too_large"
    assert getattr(read_money("5\x00", "USD"), "code", "") == "text.sign"


@pytest.mark.parametrize(
    ("written", "read"),
    [("1450", "1,450.00 USD"), ("1450.50", "1,450.50 USD"), ("1450.00", "1,450.00 USD"), ('"1.450"', "1,450.00 USD"),
     ("1.450", "money.two_readings"), ("1.455", "money.too_fine"), ("0.50", "0.50 USD"), ("1.450,00", "1,450.00 USD")],
)  # fmt: skip
def test_a_number_of_a_file_has_a_decimal_point_and_a_thousand_is_asked_back(written: str, read: str) -> None:
    document, _ = parse_document(f"amount: {written}", "f")
    assert document is not None
    found = read_money(document.data["amount"], "USD")
    assert (say(found) if isinstance(found, Money) else found.code) == read


@given(st.decimals(0, 999_999_999, places=2), st.sampled_from(["", ",", ".", " ", "'"]), st.sampled_from([",", "."]))
def test_what_is_written_with_marks_is_read_back(amount: Decimal, group: str, point: str) -> None:
    if group == point:
        return
    whole, _, cents = f"{amount:,.2f}".partition(".")
    found = read_money(f"{whole.replace(',', group)}{point}{cents}", "USD")
    assert found == Money(amount, "USD")


@given(st.text(max_size=45) | st.text(st.sampled_from("0123456789.,' -+$€()"), max_size=14))
def test_any_text_is_an_amount_or_one_sentence(text: str) -> None:
    found = read_money(text, "USD", least=None)
    if isinstance(found, Money):
        assert found.amount == found.rounded().amount
        assert read_money(say(found), "USD", least=None) == found
    else:
        assert found.what.endswith(".")
