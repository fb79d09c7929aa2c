"""Records survive JSON: equal, with the same fingerprint and hash; data of another shape are refused."""

import hashlib
import json
from dataclasses import asdict, replace
from datetime import UTC, datetime
from decimal import Decimal
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from evaluator.assessment.model import Instrument
from evaluator.basis.money import Money, total_of
from evaluator.quoting.answers import Answer
from evaluator.quoting.consent import Consent
from evaluator.quoting.quote import LATER, Quote
from evaluator.quoting.records import from_data, quote_json, to_data
from evaluator.quoting.work_order import WorkOrder, noted, work_order
from tests.laws import tried
from tests.quoting.test_quote import RUBRIC, quote_of

QUOTE = quote_of(tax={"labour": 0.07, "parts": 0.19}, deposits=[{"from_total": "200", "share": 0.3}])
JOBS = [line.job for line in QUOTE.lines if not line.shared]
MONEY = st.decimals(0, 10_000, places=2).map(lambda amount: Money(amount, "USD"))
CONSENTS = st.builds(
    Consent,
    quote=st.text(max_size=12),
    fingerprint=st.text("0123456789abcdef", min_size=64, max_size=64),
    answers=st.lists(st.tuples(st.sampled_from(JOBS), st.sampled_from(["yes", "no", "later"]))).map(tuple),
    total=MONEY,
    ceiling=MONEY,
    by=st.text(min_size=1, max_size=40),
    how=st.sampled_from(["link", "spoken", "on_paper"]),
    at=st.datetimes(timezones=st.timezones()),
    noted_by=st.none() | st.text(max_size=20),
    before=st.text("0123456789abcdef", min_size=64, max_size=64),
)


def through_json(kind: Any, record: Any) -> Any:
    return from_data(kind, json.loads(json.dumps(to_data(record))))


@given(
    st.floats(0, 0.5),
    st.sampled_from(["cent", "five_cents", "whole"]),
    st.decimals(0, 500, places=2),
    st.text(max_size=30),
)
@tried(60)
def test_a_quote_survives_with_its_fingerprint(share: float, rounding: str, minimum: Decimal, about: str) -> None:
    quote = quote_of(
        tax={"labour": share, "parts": 0}, rounding=rounding, minimum_charge=minimum, exclusions=[f"No {about}."]
    )
    again = through_json(Quote, quote)
    assert again == quote
    assert again.fingerprint() == quote.fingerprint()


@given(CONSENTS)
def test_a_consent_survives_with_its_hash(record: Consent) -> None:
    again = through_json(Consent, record)
    assert again.own_hash() == record.own_hash()


def without_later(data: Any) -> Any:
    """A record as it was written before there were the fields of `LATER`."""
    if isinstance(data, dict):
        return {name: without_later(value) for name, value in data.items() if name not in LATER}
    return [without_later(one) for one in data] if isinstance(data, list | tuple) else data


def test_a_record_of_before_is_read_and_keeps_its_fingerprint() -> None:
    old = from_data(Quote, without_later(to_data(QUOTE)))
    assert old.belongs_to is None
    assert [(line.used, line.units, line.own_jobs) for line in old.lines] == [((), 1, 0)] * len(old.lines)
    content = without_later(asdict(replace(old, state="draft")))
    wanted = hashlib.sha256(json.dumps(content, sort_keys=True, default=str).encode()).hexdigest()
    assert old.fingerprint() == wanted


def test_a_work_order_survives() -> None:
    answers: dict[str, Answer] = dict.fromkeys(JOBS, "yes")
    order = noted(
        work_order(RUBRIC, Instrument("4/4", "classical", "student"), QUOTE, answers), JOBS[0], 1.25, "a blank"
    )
    assert through_json(WorkOrder, order) == order


@pytest.mark.parametrize(
    "change",
    [
        {"ceiling": {"amount": 3.5, "currency": "USD"}},
        {"ceiling": {"amount": "x", "currency": "USD"}},
        {"state": "forgotten"},
        {"made_on": "yesterday"},
        {"lines": "none"},
        {"number": 7},
        {"more": 1},
        {"lines": [{}]},
    ],
)
def test_data_of_another_shape_are_refused(change: dict[str, Any]) -> None:
    with pytest.raises(ValueError, match="these data are no Quote"):
        from_data(Quote, {**to_data(QUOTE), **change})


def test_nothing_else_is_written() -> None:
    with pytest.raises(TypeError, match="set"):
        to_data({1})
    assert to_data(datetime(2026, 3, 4, tzinfo=UTC)) == "2026-03-04T00:00:00+00:00"


def test_the_json_adds_up_by_itself() -> None:
    data = json.loads(json.dumps(quote_json(QUOTE)))
    everything = data["totals"]["everything"]
    keys = ("labour", "parts", "rush", "minimum", "tax", "rounding")
    amounts = [Money(Decimal(everything[key]["amount"]), "USD") for key in keys]
    assert str(total_of(amounts, "USD").amount) == everything["total"]["amount"]
    lines = sum(Decimal(line["price"]["amount"]) for line in data["lines"])
    assert lines == Decimal(everything["labour"]["amount"]) + Decimal(everything["parts"]["amount"])
