"""What stands out in a sheet of sales: what is there twice, and a price that may be a slip of a digit."""

from collections.abc import Mapping
from typing import Any

import pytest

from evaluator.valuation.sales.sales_file import ReadRow, flagged
from tests.valuation.test_sales_book import sale

TWICE, KNOWN, COSTS = "is the same as line", "is in the book already", "costs "


def rows(*prices: float, **keys: Any) -> list[ReadRow]:
    """Rows from line 2 on, each of another name unless the keys say one."""
    sales = [sale(price, **({"name": f"no. {line}"} | keys)) for line, price in enumerate(prices, 2)]
    return [ReadRow(line, one, f"{one.price}", "") for line, one in enumerate(sales, 2)]


def starts(found: Mapping[int, tuple[str, ...]]) -> dict[int, list[str]]:
    known = (TWICE, KNOWN, COSTS)
    return {
        line: [next(one for one in known if text.startswith(one)) for text in texts] for line, texts in found.items()
    }


def test_nothing_stands_out_of_a_sound_sheet() -> None:
    assert flagged(rows(900, 1000, 1100, 1200), [sale(1000)]) == {}
    assert flagged([], [sale(1000)]) == {}


def test_a_row_that_is_there_twice_names_the_line_where_it_was_first() -> None:
    found = flagged(rows(1000, 1000, 1000, name="one"), [])
    assert found == {
        3: ("is the same as line 2, and counts once",),
        4: ("is the same as line 2, and counts once",),
    }


def test_a_row_that_is_in_the_book_is_told_so_and_not_that_it_is_there_twice() -> None:
    found = flagged(rows(1000, 1000, name="  ONE "), [sale(1000, name="one")])
    assert starts(found) == {2: [KNOWN], 3: [KNOWN]}


@pytest.mark.parametrize(
    ("price", "says"), [(200, ""), (199, "less than one part in 5"), (5000, ""), (5001, "more than 5 times")]
)
def test_a_price_more_than_five_times_from_the_middle_of_its_kind_is_looked_at_again(price: float, says: str) -> None:
    """The middle of 1000, 1000, 1000 and this one is 1000."""
    found = flagged(rows(1000, 1000, 1000, price), [])
    assert [text[: len("costs " + says)] for text in found.get(5, ())] == (["costs " + says] if says else [])
    assert set(found) <= {5}


def test_three_of_a_kind_have_no_middle_and_another_kind_is_no_help() -> None:
    assert flagged(rows(1000, 1000, 9000), []) == {}
    violas = [sale(1000, family="viola"), sale(1000, tier="professional")]
    assert flagged(rows(1000, 1000, 9000), violas) == {}
    assert starts(flagged(rows(1000, 1000, 9000), [sale(1000, name="in the book")])) == {4: [COSTS]}


def test_all_that_stands_out_in_a_row_is_told() -> None:
    twice = [*rows(1000, 1000, 1000, 1000), *(ReadRow(line, sale(9000, name="far"), "", "") for line in (6, 7))]
    assert starts(flagged(twice, [])) == {6: [COSTS], 7: [TWICE, COSTS]}
