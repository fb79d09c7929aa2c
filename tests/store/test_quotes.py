"""Kept quotes: numbered, offered once, answered by one of two at once, never rewritten."""

from concurrent.futures import ThreadPoolExecutor
from dataclasses import replace
from datetime import UTC, date, datetime, timedelta
from decimal import Decimal
from threading import Barrier
from typing import Any

import pytest
from sqlalchemy import Engine, select, text, update
from sqlalchemy.exc import IntegrityError

from evaluator.assessment.model import Instrument
from evaluator.basis.money import Money
from evaluator.basis.problem import Problem
from evaluator.quoting.answers import Answer, all_yes
from evaluator.quoting.consent import first_altered, head
from evaluator.quoting.quote import Quote, up_to
from evaluator.quoting.work_order import noted, work_order
from evaluator.store.engine import is_file, reading, writing
from evaluator.store.evaluations import create
from evaluator.store.quotes import (
    KeptQuote,
    Offered,
    answer,
    find_by_number,
    find_by_token,
    find_quote,
    hash_of,
    move,
    new_link,
    offer,
    quotes_of,
    successor,
)
from evaluator.store.schema import consents, metadata
from evaluator.store.workshop.drafts import keep_draft
from evaluator.store.workshop.orders import Noted, begin_work, hours_noted, note_work
from tests.quoting.test_quote import ON, RUBRIC, quote_of

NOW = "2026-03-03T09:00:00+00:00"
AT = datetime(2026, 3, 3, 9, 0, tzinfo=UTC)
DRAFT = quote_of()
INSTRUMENT = Instrument("4/4", "classical", "student")


@pytest.fixture
def evaluation(engine: Engine) -> str:
    return create(engine, "violin", {"start": {"title": "Red violin"}, "answers": {}}, NOW)


def offered(engine: Engine, evaluation: str, quote: Quote = DRAFT) -> Offered:
    found = offer(engine, keep_draft(engine, evaluation, quote, NOW), NOW)
    assert isinstance(found, Offered)
    return found


def again(engine: Engine, identity: str) -> KeptQuote:
    found = find_quote(engine, identity)
    assert found is not None
    return found


def say(engine: Engine, identity: str, answers: dict[str, Answer], **keys: Any) -> KeptQuote | tuple[Problem, ...]:
    """An answer on the link with a ceiling that is high enough, unless the keys say otherwise."""
    kept = again(engine, identity)
    base: dict[str, Any] = {"seen": head(kept.chain), "by": "A. Player", "how": "link", "at": AT, "now": NOW}
    base["ceiling"] = up_to(kept.quote, kept.quote.lines)
    return answer(engine, identity, answers=answers, **{**base, **keys})


def codes(found: object) -> list[str]:
    assert isinstance(found, tuple)
    return [one.code for one in found]


def test_a_draft_is_read_back_as_it_was_kept(engine: Engine, evaluation: str) -> None:
    identity = keep_draft(engine, evaluation, DRAFT, NOW)
    kept = again(engine, identity)
    assert kept.quote == replace(DRAFT, number="2026-0001")
    assert (kept.evaluation, kept.chain, kept.work, kept.made) == (evaluation, (), None, NOW)
    assert find_quote(engine, "nothing") is None
    assert find_by_number(engine, "2026-0001") == kept


def test_a_draft_made_anew_keeps_its_number_and_the_next_one_goes_on(engine: Engine, evaluation: str) -> None:
    first = keep_draft(engine, evaluation, DRAFT, NOW)
    assert keep_draft(engine, evaluation, replace(DRAFT, about="For Anna"), NOW) == first
    assert again(engine, first).quote.about == "For Anna"
    other = create(engine, "violin", {"start": {}, "answers": {}}, NOW)
    assert again(engine, keep_draft(engine, other, DRAFT, NOW)).quote.number == "2026-0002"
    later = replace(DRAFT, made_on=date(2027, 1, 2))
    third = create(engine, "violin", {"start": {}, "answers": {}}, NOW)
    assert again(engine, keep_draft(engine, third, later, NOW)).quote.number == "2027-0001"


def test_the_token_opens_the_quote_and_only_its_hash_is_kept(engine: Engine, evaluation: str) -> None:
    found = offered(engine, evaluation)
    assert find_by_token(engine, found.token) == again(engine, found.kept.id)
    assert again(engine, found.kept.id).quote.state == "offered"
    assert find_by_token(engine, found.token + "x") is None
    with reading(engine) as connection:
        rows = [repr(row) for table in metadata.sorted_tables for row in connection.execute(select(table))]
    assert any(hash_of(found.token) in row for row in rows)
    assert not any(found.token in row for row in rows)


def test_a_new_link_closes_the_old_one(engine: Engine, evaluation: str) -> None:
    old = offered(engine, evaluation)
    new = new_link(engine, old.kept.id)
    assert isinstance(new, Offered)
    assert find_by_token(engine, old.token) is None
    assert find_by_token(engine, new.token) is not None


def test_a_draft_has_no_link(engine: Engine, evaluation: str) -> None:
    found = new_link(engine, keep_draft(engine, evaluation, DRAFT, NOW))
    assert isinstance(found, Problem)
    assert found.code == "quote.no_link"


def test_offered_twice_is_told(engine: Engine, evaluation: str) -> None:
    found = offer(engine, offered(engine, evaluation).kept.id, NOW)
    assert isinstance(found, Problem)
    assert found.what == "it is offered and cannot become offered."


def test_a_draft_that_has_expired_is_not_offered(engine: Engine, evaluation: str) -> None:
    identity = keep_draft(engine, evaluation, DRAFT, NOW)
    found = offer(engine, identity, (DRAFT.valid_until + timedelta(days=1)).isoformat())
    assert isinstance(found, Problem)
    assert found.what == "it was valid until 01 April 2026."
    assert again(engine, identity).quote.state == "draft"


def test_a_changed_quote_supersedes_the_old_one_when_it_is_offered(engine: Engine, evaluation: str) -> None:
    old = offered(engine, evaluation)
    identity = keep_draft(engine, evaluation, replace(DRAFT, about="changed"), NOW)
    assert identity != old.kept.id
    assert again(engine, old.kept.id) == old.kept
    assert successor(engine, "2026-0001") is None
    new = offer(engine, identity, NOW)
    assert isinstance(new, Offered)
    assert (new.kept.quote.supersedes, again(engine, old.kept.id).quote.state) == ("2026-0001", "superseded")
    assert successor(engine, "2026-0001") == again(engine, identity)
    assert [one.quote.number for one in quotes_of(engine, evaluation)] == ["2026-0002", "2026-0001"]
    assert codes(say(engine, old.kept.id, all_yes(DRAFT))) == ["consent.not_offered"]


@pytest.mark.parametrize(
    ("answers", "state"),
    [
        (all_yes(DRAFT), "agreed"),
        ({**all_yes(DRAFT), "clean": "no"}, "agreed"),
        (dict.fromkeys(all_yes(DRAFT), "no"), "declined"),
        (dict.fromkeys(all_yes(DRAFT), "later"), "offered"),
    ],
)
def test_answers_move_the_quote(engine: Engine, evaluation: str, answers: dict[str, Answer], state: str) -> None:
    identity = offered(engine, evaluation).kept.id
    found = say(engine, identity, answers)
    assert isinstance(found, KeptQuote)
    assert found.quote.state == state
    assert again(engine, identity) == found
    assert dict(found.chain[-1].answers) == answers


@pytest.mark.parametrize(
    ("keys", "code"),
    [
        ({"by": " "}, "consent.name"),
        ({"how": "spoken"}, "consent.noted_by"),
        ({"ceiling": Money(Decimal("5.00"), "USD")}, "consent.ceiling"),
        ({"at": AT + timedelta(days=60)}, "consent.expired"),
        ({"seen": "f" * 64}, "consent.meanwhile"),
        ({"answers": {}}, "consent.nothing"),
        ({"answers": {"varnish": "yes"}}, "quote.unknown_line"),
    ],
)
def test_a_bad_answer_changes_nothing(engine: Engine, evaluation: str, keys: dict[str, Any], code: str) -> None:
    identity = offered(engine, evaluation).kept.id
    before = again(engine, identity)
    found = say(engine, identity, **{"answers": all_yes(DRAFT), **keys})
    assert codes(found) == [code]
    assert again(engine, identity) == before


def test_of_two_answers_at_once_one_counts_and_the_other_is_told(engine: Engine, evaluation: str) -> None:
    identity = offered(engine, evaluation).kept.id
    start = Barrier(2)

    def phone(name: str) -> object:
        start.wait()
        return say(engine, identity, dict.fromkeys(all_yes(DRAFT), "later"), by=name, seen=head(()))

    with ThreadPoolExecutor(2) as pool:
        found = list(pool.map(phone, ("Anna", "Ben")))
    winners = [one for one in found if isinstance(one, KeptQuote)]
    assert len(winners) == 1
    loser = next(one for one in found if not isinstance(one, KeptQuote))
    assert codes(loser) == ["consent.meanwhile"]
    assert again(engine, identity).chain == winners[0].chain
    assert len(winners[0].chain) == 1


def test_the_tables_refuse_to_rewrite(engine: Engine, evaluation: str) -> None:
    identity = offered(engine, evaluation).kept.id
    say(engine, identity, all_yes(DRAFT))
    for change in (
        "UPDATE quotes SET record = '{}'",
        "UPDATE quotes SET number = 'x'",
        "DELETE FROM quotes",
        "UPDATE consents SET record = '{}'",
        "DELETE FROM consents",
    ):
        with pytest.raises(IntegrityError, match=r"edited|kept"), writing(engine) as connection:
            connection.execute(text(change))
    assert again(engine, identity).quote.state == "agreed"


def test_a_consent_changed_behind_the_tables_back_shows(engine: Engine, evaluation: str) -> None:
    identity = offered(engine, evaluation).kept.id
    say(engine, identity, dict.fromkeys(all_yes(DRAFT), "later"))
    assert first_altered(again(engine, identity).chain) is None
    with writing(engine) as connection:
        connection.execute(text("DROP TRIGGER consents_stay" + ("" if is_file(engine) else " ON consents")))
        record = connection.execute(select(consents.c.record)).scalar_one()
        connection.execute(update(consents).values(record=record | {"by": "Someone"}))
    assert first_altered(again(engine, identity).chain) == 0
    assert codes(say(engine, identity, all_yes(DRAFT))) == ["consent.altered"]


def test_the_bench_notes_hours_until_the_work_is_done(engine: Engine, evaluation: str) -> None:
    identity = offered(engine, evaluation).kept.id
    order = work_order(RUBRIC, INSTRUMENT, DRAFT, all_yes(DRAFT))
    early = begin_work(engine, identity, order, NOW)
    assert isinstance(early, Problem)
    refused = note_work(engine, identity, lambda _: order, NOW)
    assert isinstance(refused, Problem)
    assert refused.code == "quote.not_in_work"
    say(engine, identity, all_yes(DRAFT))
    begun = begin_work(engine, identity, order, NOW)
    assert isinstance(begun, KeptQuote)
    assert begun.work == order
    for task in order.tasks:
        order = noted(order, task.job, 1.5)
    assert hours_noted(engine) == ()
    assert isinstance(note_work(engine, identity, lambda _: order, NOW), KeptQuote)
    assert isinstance(move(engine, identity, "done", NOW), KeptQuote)
    assert hours_noted(engine) == tuple(Noted("violin", task.job, 1, 1.5) for task in order.tasks)
    assert isinstance(note_work(engine, identity, lambda _: order, NOW), Problem)


def test_on_the_day_it_was_made_it_can_be_offered(engine: Engine, evaluation: str) -> None:
    found = offer(engine, keep_draft(engine, evaluation, DRAFT, NOW), f"{ON.isoformat()}T08:00:00+00:00")
    assert isinstance(found, Offered)
