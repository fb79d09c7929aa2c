"""One time in every way that people write it, and what is none."""

import pytest

from evaluator.basis import show
from evaluator.basis.problem import Problem
from evaluator.basis.typed.hours import read_hours


@pytest.mark.parametrize(
    "text",
    ["1.25", "1,25", "1:15", "1:15:00", "1:15 h", "01:15", "1 h 15", "1h15", "1 h 15 min",
     "1 hour and 15 minutes", "75 min", "75min", "75'", "75,0 minutes", "1 1/4", "1\u00bc", "1\u202f1/4 h", "5/4 h",
     "1.250", "1,250", "1.25 hrs", "1 Std. 15", "１：１５", 1.25],
)  # fmt: skip
def test_one_time(text: object) -> None:
    assert read_hours(text) == pytest.approx(1.25)


@pytest.mark.parametrize(
    ("text", "code"),
    [("", "empty"), ("a while", "not_a_time"), ("1 15", "not_a_time"), ("-1", "not_a_time"), ("nan", "not_a_time"),
     ("inf", "not_a_time"), ("1e2", "not_a_time"), ("1/0", "not_a_time"), ("1.5.5", "not_a_time"), (True, "not_a_time"),
     (None, "not_a_time"), ("1:75", "minutes"), ("1 h 75", "minutes"), ("2 days", "day"), ("501", "outside"),
     (-1.0, "outside"), (float("nan"), "outside")],
)  # fmt: skip
def test_no_time(text: object, code: str) -> None:
    found = read_hours(text, "Job")
    assert isinstance(found, Problem) and found.code == f"hours.{code}" and found.what_to_do


def test_no_time_at_all_is_none_where_a_time_is_asked_for() -> None:
    assert getattr(read_hours("0", above=True), "code", "") == "hours.nothing"
    assert getattr(read_hours("1\x00"), "code", "") == "text.sign"


@pytest.mark.parametrize(("hours", "said"), [(1.25, "1 h 15 min"), (2, "2 h"), (0.75, "45 min"), (0, "0 min")])
def test_said(hours: float, said: str) -> None:
    assert show.hours(hours) == said
    assert read_hours(said) == hours


@pytest.mark.parametrize(
    ("hours", "clock"), [(1.25, "1:15"), (0.05, "0:03"), (0.004, "0:01"), (0, "0:00"), (11.999, "12:00")]
)
def test_a_column_of_times_reads_back_and_shows_nothing_only_for_nothing(hours: float, clock: str) -> None:
    assert show.clock(hours) == clock
    assert read_hours(clock) == pytest.approx(hours, abs=1 / 60)
    assert (show.hours(hours) == "0 min") == (hours == 0)
