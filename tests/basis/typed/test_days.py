"""Days as people type them: one, two where the month cannot be told, or none."""

from datetime import date

import pytest

from evaluator.basis.typed.days import days_of, order_of


@pytest.mark.parametrize(
    "text",
    ["2024-03-31", "2024/3/31", "31.03.2024", "31.3.24", "31/03/2024", "03/31/2024", "31 March 2024", "31 march, 2024",
     "31. März 2024", "31-Mar-24", "March 31, 2024", "Mar 31st, 2024", "31 mars 2024", "31 marzo 2024",
     "2024-03-31 10:00", "３１.０３.２０２４"],
)  # fmt: skip
def test_one_day(text: str) -> None:
    assert days_of(text) == (date(2024, 3, 31),)


@pytest.mark.parametrize(
    "text",
    ["", "soon", "31.02.2024", "2024-13-01", "32/01/2024", "13/13/2024", "45382", "1 Smarch 2024", "ma 2 2024",
     "5/2024", "0/0/0000", "00.00.0000"],
)  # fmt: skip
def test_no_day(text: str) -> None:
    assert days_of(text) == ()


def test_two_days_are_both_given_until_the_order_is_known() -> None:
    assert days_of("03/04/2024") == (date(2024, 4, 3), date(2024, 3, 4))
    assert days_of("03/04/2024", "day_first") == (date(2024, 4, 3),)
    assert days_of("03/04/2024", "month_first") == (date(2024, 3, 4),)
    assert days_of("03.04.2024", "month_first") == (date(2024, 4, 3),), "points put the day first"
    assert days_of("05/05/2024") == (date(2024, 5, 5),)


@pytest.mark.parametrize(
    ("texts", "order"),
    [
        (["03/04/2024", "31/03/2024"], "day_first"),
        (["03/04/2024", "03/31/2024"], "month_first"),
        (["03/04/2024"], None),
        (["31/03/2024", "03/31/2024"], None),
        (["31.03.2024"], None),
    ],
)
def test_a_column_may_show_the_order(texts: list[str], order: str | None) -> None:
    assert order_of(texts) == order
