"""Numbers, units, money, chances and dates as people read them."""

import re
from decimal import Decimal

import pytest
from babel.numbers import format_currency
from hypothesis import given
from hypothesis import strategies as st

from evaluator.basis import show


@pytest.mark.parametrize(
    ("iso", "said"),
    [
        ("2026-11-25T13:00:03+00:00", "25 November 2026"),
        ("2026-03-04", "4 March 2026"),
        ("2026-13-04", "2026-13-04"),
        ("soon", "soon"),
        ("", ""),
    ],
)
def test_a_day_is_written_out(iso: str, said: str) -> None:
    assert show.day(iso) == said


@pytest.mark.parametrize(
    ("amount", "cents", "said"),
    [
        (1250, False, "$1,250"),
        (Decimal("1250.5"), True, "$1,250.50"),
        (-12.0, False, "-$12"),
        (0.0, False, "$0"),
    ],
)
def test_money_is_written_as_on_a_bill(amount: float | Decimal, cents: bool, said: str) -> None:
    assert show.money(amount, "USD", cents=cents) == said


@pytest.mark.parametrize(
    ("value", "u", "unit", "said"),
    [
        (327.5, 0.3, "mm", "327.5 ± 0.6 mm"),
        (436.0, 3.0, "g", "436 ± 6 g"),
        (54.5, 0.0, "mm", "54.5 mm"),
        (12.0, 0.0, "deg", "12°"),
        (6.1234, 0.0, "ratio", "6.12"),
    ],
)
def test_a_reading_is_no_finer_than_its_doubt(value: float, u: float, unit: str, said: str) -> None:
    assert show.doubtful(value, u, unit) == said


@given(st.floats(0.001, 1e5), st.floats(1e-4, 1e3))
def test_value_and_doubt_end_at_the_same_place(value: float, u: float) -> None:
    number, spread = show.doubtful(value, u, "mm").removesuffix(" mm").split(" ± ")
    places = [len(text.partition(".")[2]) for text in (number, spread)]
    assert places[0] == places[1]
    assert float(spread) > 0


@given(st.floats(0, 1), st.floats(0, 1))
def test_a_greater_chance_is_never_said_as_a_smaller_one(one: float, other: float) -> None:
    said = [show.chance(share / 200) for share in range(201)]
    order = list(dict.fromkeys(said))
    low, high = sorted((one, other))
    assert order.index(show.chance(low)) <= order.index(show.chance(high))


@pytest.mark.parametrize(
    ("minutes", "said"), [(0.5, "half a minute"), (1, "1 minute"), (5, "5 minutes"), (60, "1 h"), (90, "1 h 30 min")]
)
def test_minutes_are_said_in_words(minutes: float, said: str) -> None:
    assert show.minutes(minutes) == said


@given(st.floats(-1e6, 1e6, allow_nan=False))
def test_a_number_has_no_idle_zeros(value: float) -> None:
    text = show.number(value)
    assert not re.search(r"\.\d*0$|\.$", text)


@given(
    st.one_of(
        st.decimals(-(10**7), 10**7, places=4), st.floats(-1e6, 1e6), st.integers(-2000, 2000).map(lambda n: n / 2)
    ),
    st.sampled_from(["USD", "EUR", "GBP", "JPY", "CHF", "CAD", "SEK", "XXX"]),
    st.booleans(),
)
def test_money_is_written_as_babel_writes_it(amount: float | Decimal, currency: str, cents: bool) -> None:
    pattern = "¤#,##0.00;-¤#,##0.00" if cents else "¤#,##0;-¤#,##0"
    value = Decimal(str(amount)) + 0  # Babel writes a nought below nothing as -$0
    written = format_currency(value, currency, format=pattern, locale="en", currency_digits=False)
    assert show.money(amount, currency, cents=cents) == written
