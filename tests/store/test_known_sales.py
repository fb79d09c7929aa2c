"""The book of sales in the database: what goes in comes back, nothing goes in twice or by half, corrections clash."""

from dataclasses import replace
from datetime import date
from typing import Any

import pytest
from sqlalchemy import Engine
from sqlalchemy.exc import StatementError

from evaluator.store.evaluations import Conflict, create, find, save_answers, save_sales_choices, save_start
from evaluator.store.known_sales import add_sales, choose_leave_out, correct_sale, remove_sale, revision, whole_book
from evaluator.valuation.sales.comparables import Comparable

NOW = "2026-03-04T05:06:07+00:00"


def sale(name: str = "A „quaint” one", **keys: Any) -> Comparable:
    base: dict[str, Any] = {"sold_on": date(2026, 2, 3), "kind": "auction", "price": 775.5, "currency": "USD"}
    base |= {"family": "violin", "size": "4/4", "tier": "student", "made": 61.5, "set_up": 450.0, "note": "a\nb"}
    return Comparable(name, **(base | keys))


def test_a_sale_comes_back_as_it_was_put_in(engine: Engine) -> None:
    assert add_sales(engine, [sale()], NOW) == 1
    book = whole_book(engine)
    assert [replace(one, key="") for one in book.sales] == [sale()]
    assert book.find(book.sales[0].key) == book.kept[0]
    assert (book.leave_out_much, book.find("nowhere")) == (False, None)


def test_the_newest_sale_comes_first_and_none_goes_in_twice(engine: Engine) -> None:
    older = sale("older", sold_on=date(2025, 1, 1))
    assert add_sales(engine, [older, sale(), sale(note="again")], NOW) == 2
    assert add_sales(engine, [older], NOW) == 0
    assert [one.name for one in whole_book(engine).sales] == ["A „quaint” one", "older"]


def test_a_list_that_breaks_leaves_nothing_behind(engine: Engine) -> None:
    broken = sale("broken", note=object())
    with pytest.raises((StatementError, TypeError)):
        add_sales(engine, [sale(), broken], NOW)
    assert whole_book(engine).sales == ()
    assert revision(engine) == 0


def test_a_correction_names_its_version(engine: Engine) -> None:
    add_sales(engine, [sale()], NOW)
    key = whole_book(engine).sales[0].key
    assert correct_sale(engine, key, 1, sale(price=800.0), NOW)
    assert not correct_sale(engine, key, 1, sale(price=900.0), NOW)
    assert not remove_sale(engine, key, 1)
    assert whole_book(engine).sales[0].price == 800.0
    assert remove_sale(engine, key, 2)
    assert whole_book(engine).sales == ()


def test_every_change_is_counted(engine: Engine) -> None:
    seen = [revision(engine)]
    add_sales(engine, [sale()], NOW)
    seen.append(revision(engine))
    choose_leave_out(engine, True)
    seen.append(revision(engine))
    key = whole_book(engine).sales[0].key
    correct_sale(engine, key, 1, sale(price=800.0), NOW)
    seen.append(revision(engine))
    remove_sale(engine, key, 2)
    assert [*seen, revision(engine)] == [0, 1, 2, 3, 4]
    assert whole_book(engine).leave_out_much


def test_what_was_decided_for_one_instrument_stays_beside_its_answers(engine: Engine) -> None:
    identity = create(engine, "violin", {"start": {"title": "Red"}, "answers": {}}, NOW)
    chosen = {"set_aside": ["a1"], "grades": {"b2": "1.1"}, "retention": "0.9", "leave_out": "no"}
    assert save_sales_choices(engine, identity, 1, chosen, NOW) is not None
    save_start(engine, identity, 2, {"title": "Redder"}, NOW)
    save_answers(engine, identity, 3, {"purfling": {"outcome": "inlaid"}}, NOW)
    kept = find(engine, identity)
    assert kept is not None
    assert (kept.typed["sales"], kept.title, list(kept.typed["answers"])) == (chosen, "Redder", ["purfling"])
    assert isinstance(save_sales_choices(engine, identity, 1, {}, NOW), Conflict)
    assert save_sales_choices(engine, "nowhere", 1, {}, NOW) is None
