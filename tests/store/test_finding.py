"""Found by the beginnings of words, and listed page by page; on both databases, and by an index whatever is asked."""

from collections.abc import Callable
from functools import partial
from itertools import product
from pathlib import Path
from typing import Any

import pytest
from sqlalchemy import Engine, delete, event, select

from evaluator.store.desk.offers import listed_offers
from evaluator.store.engine import open_database, reading, writing
from evaluator.store.evaluations import create, finish, save_start
from evaluator.store.finding.listing import Wanted, from_address, in_address, listed, listed_as
from evaluator.store.finding.search import found_by_words, place_from_address
from evaluator.store.finding.tables import found_words
from evaluator.store.finding.words import CUSTOMER, EVALUATION, make_words_anew, words_in
from evaluator.store.schema import metadata
from evaluator.store.workshop.bills import newest_bills
from evaluator.store.workshop.customers import (
    add_customer,
    add_instrument,
    change_customer,
    erase_customer,
    households,
    search,
)

NOW = "2026-03-04T05:06:07+00:00"


def made(engine: Engine, title: str, family: str = "violin", at: str = NOW) -> str:
    return create(engine, family, {"start": {"title": title}, "answers": {}}, at)


def at(minute: int) -> str:
    return f"2026-03-04T05:{minute // 60:02d}:{minute % 60:02d}+00:00"


def titles(engine: Engine, typed: str) -> list[str]:
    return [one.title for one in listed_as(engine, found_by_words(engine, EVALUATION, typed).ids)]


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("Žižkov, 1890", ("zizkov", "1890")),
        ("Łódź ŁÓDŹ", ("lodz",)),
        ("No. 2023-0007/b", ("no", "2023", "0007", "b")),
        ("Straße", ("strasse",)),
        ("  \0 ", ()),
        ("x" * 99, ("x" * 40,)),
    ],
)
def test_words_are_found_without_capitals_and_accents(text: str, words: tuple[str, ...]) -> None:
    assert words_in(text) == words


def test_an_evaluation_is_found_by_what_its_words_begin_with(engine: Engine) -> None:
    red, old = made(engine, "Red violin of Žofie"), made(engine, "Old red one", at=at(3599))
    assert titles(engine, "zof") == ["Red violin of Žofie"]
    assert titles(engine, "RE") == ["Old red one", "Red violin of Žofie"], "the newest first where the word is the same"
    assert titles(engine, "red vio") == ["Red violin of Žofie"]
    assert titles(engine, "ed") == titles(engine, "") == titles(engine, "%") == titles(engine, "red cello") == []
    save_start(engine, red, 1, {"title": "Blue"}, NOW)
    assert titles(engine, "red") == ["Old red one"] and titles(engine, "blu") == ["Blue"]
    assert titles(engine, "o") == ["Old red one"], "two words that begin so, and it comes once"
    assert old


def test_a_search_goes_on_where_its_page_ended(engine: Engine) -> None:
    names = [f"Violin {number:02d}" for number in range(25)]
    for minute, name in enumerate(names):
        made(engine, name, at=at(minute // 2))
    found: list[str] = []
    key = None
    for _ in range(9):
        page = found_by_words(engine, EVALUATION, "viol", key, 4)
        found += [one.title for one in listed_as(engine, page.ids)]
        key = place_from_address(in_address(page.key))
        if key is None:
            break
    assert (sorted(found) == names and found[:2] == sorted(found[:2], reverse=True)) or set(found[:1]) == {names[-1]}
    assert len(found) == len(set(found))


@pytest.mark.parametrize("order", ["changed", "title"])
@pytest.mark.parametrize("wanted", [("", ""), ("cello", ""), ("", "draft"), ("violin", "finished")])
def test_pages_of_a_list_hold_each_of_its_kind_once(engine: Engine, order: Any, wanted: tuple[str, str]) -> None:
    family, state = wanted
    for number in range(12):
        identity = made(
            engine, f"{'anna' if number % 2 else 'Berta'}, {number // 4}", "cello" if number % 3 else "violin"
        )
        if number % 4:
            finish(engine, identity, 1, {}, "hash", at(number // 3))
    one_page, _ = listed(engine, Wanted(family, state, order), count=99)
    assert all(family in ("", one.rubric) and state in ("", one.state) for one in one_page)
    sort = [one.changed for one in one_page] if order == "changed" else [one.title.lower() for one in one_page]
    assert sort == sorted(sort, reverse=order == "changed")
    found, key = listed(engine, Wanted(family, state, order), count=2)
    while key is not None:
        more, key = listed(engine, Wanted(family, state, order), from_address(in_address(key)), 2)
        found += more
    assert found == one_page


def test_customers_are_found_by_their_instruments_and_erased_ones_by_nothing(engine: Engine) -> None:
    anna = add_customer(engine, {"name": "Anna Ahn", "telephone": "030 12 34"}, NOW)
    assert isinstance(anna, str)
    add_instrument(engine, anna, {"name": "Viola", "label": "Anno 1901", "serial": "K-77"}, NOW)
    add_instrument(engine, None, {"name": "Cello of nobody", "serial": "K-78"}, NOW)
    assert [one.name for one, _ in search(engine, "k 77")] == ["Anna Ahn"]
    assert [(one.name, [thing.name for thing in things]) for one, things in search(engine, "k")] == [
        ("Anna Ahn", ["Viola"]),
        ("", ["Cello of nobody"]),
    ]
    change_customer(engine, anna, {"name": "Anna Ahn"}, {"name": "Berta Ahn"}, NOW)
    assert search(engine, "anna") == () and search(engine, "berta 1901") != ()
    assert erase_customer(engine, anna, NOW) is None
    assert search(engine, "berta") == () and [thing.name for _, (thing,) in search(engine, "77")] == ["Viola"]
    with reading(engine) as connection:
        assert connection.execute(select(found_words).where(found_words.c.kind == CUSTOMER)).all() == []


def test_customers_stand_by_name_a_page_at_a_time(engine: Engine) -> None:
    for name in ("Dora", "anna", "Cleo", "Berta", "Emil"):
        add_customer(engine, {"name": name}, NOW)
    add_instrument(engine, None, {"name": "Of nobody"}, NOW)
    first, key = households(engine, count=3)
    last, end = households(engine, from_address(in_address(key)), count=3)
    assert [one.name for one, _ in (*first, *last)] == ["anna", "Berta", "Cleo", "Dora", "Emil", ""]
    assert end is None


def test_words_can_be_made_anew(engine: Engine) -> None:
    made(engine, "Red violin")
    anna = add_customer(engine, {"name": "Anna"}, NOW)
    add_instrument(engine, anna if isinstance(anna, str) else None, {"name": "Viola"}, NOW)
    add_instrument(engine, None, {"name": "Cello"}, NOW)
    with writing(engine) as connection:
        query = select(found_words).order_by(*found_words.primary_key.columns)
        before = connection.execute(query).all()
        connection.execute(delete(found_words))
        make_words_anew(connection)
        assert connection.execute(query).all() == before != []


WANTED = [Wanted(*one) for one in product(("", "viola"), ("", "draft"), ("changed", "title"))]
ASKED: dict[str, Callable[[Engine], object]] = {
    **{f"listed {one}": partial(listed, wanted=one, after=("b", "c")) for one in WANTED},
    "found": partial(found_by_words, kind=EVALUATION, typed="red vio", after=("red", NOW, "0")),
    "households": partial(households, after=("b", "c")),
    "bills": partial(newest_bills, after=("b", "c")),
    "offers": partial(listed_offers, after=("b", "c")),
}


@pytest.mark.parametrize("asked", ASKED)
def test_no_list_reads_a_whole_table_or_sorts_one(tmp_path: Path, asked: str) -> None:
    engine = open_database(tmp_path / "kept.sqlite")
    said: list[tuple[str, Any]] = []
    event.listen(engine, "before_cursor_execute", lambda *given: said.append((given[2], given[3])))
    ASKED[asked](engine)
    asks = [one for one in said if one[0].startswith("SELECT")]
    assert asks
    with engine.connect() as connection:
        for statement, given in asks:
            steps = [row[-1] for row in connection.exec_driver_sql(f"EXPLAIN QUERY PLAN {statement}", given)]
            scanned = [one for one in steps if one.startswith("SCAN") and " INDEX " not in one]
            whole = [one for one in scanned if one.split()[1] in metadata.tables]
            assert whole == [], statement
            assert not any("TEMP B-TREE" in step for step in steps) or " IN " in statement, statement
    engine.dispose()
