"""Second quotes in the database: numbered under their first, answered alone, and carried along with its work."""

from dataclasses import replace
from datetime import UTC, datetime

import pytest
from sqlalchemy import Engine

from evaluator.basis.problem import Problem
from evaluator.quoting.answers import Answer, all_yes
from evaluator.quoting.changes import Change
from evaluator.quoting.consent import head
from evaluator.quoting.quote import Quote, up_to
from evaluator.quoting.work_order import work_order
from evaluator.store.evaluations import create
from evaluator.store.quotes import KeptQuote, Offered, answer, find_quote, more_of, move, offer
from evaluator.store.workshop.drafts import add_change, keep_draft, keep_more
from evaluator.store.workshop.orders import begin_work, call_done
from tests.quoting.test_supplement import INSTRUMENT, RUBRIC, first_quote
from tests.quoting.test_supplement import more_of as second

NOW = "2026-03-10T09:00:00+00:00"
AT = datetime(2026, 3, 10, 9, 0, tzinfo=UTC)
FIRST = replace(first_quote(), state="draft")
MORE = second(first_quote(), "post_new")


@pytest.fixture
def first(engine: Engine) -> str:
    """The id of a first quote that is agreed."""
    evaluation = create(engine, "violin", {"start": {}, "answers": {}}, NOW)
    return agreed(engine, keep_draft(engine, evaluation, FIRST, NOW))


def agreed(engine: Engine, identity: str, word: Answer = "yes") -> str:
    assert isinstance(offer(engine, identity, NOW), Offered)
    kept = kept_of(engine, identity)
    answers = dict.fromkeys(all_yes(kept.quote), word)
    ceiling = up_to(kept.quote, kept.quote.lines)
    found = answer(engine, identity, head(kept.chain), answers, "A. Parent", "link", AT, NOW, ceiling)
    assert isinstance(found, KeptQuote), found
    return identity


def kept_of(engine: Engine, identity: str) -> KeptQuote:
    kept = find_quote(engine, identity)
    assert kept is not None
    return kept


def kept_more(engine: Engine, quote: Quote = MORE) -> str:
    found = keep_more(engine, quote, NOW)
    assert isinstance(found, str), found
    return found


def state(engine: Engine, identity: str) -> str:
    return kept_of(engine, identity).quote.state


def code(found: object) -> str:
    assert isinstance(found, Problem)
    return found.code


def begin(engine: Engine, identity: str) -> None:
    order = work_order(RUBRIC, INSTRUMENT, FIRST, all_yes(FIRST))
    assert isinstance(begin_work(engine, identity, order, NOW), KeptQuote)


def test_a_second_quote_is_numbered_under_its_first_and_leaves_it_alone(engine: Engine, first: str) -> None:
    before = kept_of(engine, first)
    one = kept_more(engine)
    assert kept_of(engine, one).quote.number == "2026-0001/1"
    assert kept_more(engine, replace(MORE, about="Again.")) == one, "a draft is made anew in its place"
    agreed(engine, one)
    two = kept_more(engine)
    assert [kept.quote.number for kept in more_of(engine, "2026-0001")] == ["2026-0001/1", "2026-0001/2"]
    assert kept_of(engine, first) == before
    other = create(engine, "violin", {"start": {}, "answers": {}}, NOW)
    assert kept_of(engine, keep_draft(engine, other, FIRST, NOW)).quote.number == "2026-0002"
    assert kept_of(engine, keep_draft(engine, before.evaluation, FIRST, NOW)).quote.supersedes == "2026-0001"
    assert state(engine, two) == "draft", "a changed first quote does not take the draft of a second one"


def test_only_one_waits_at_a_time(engine: Engine, first: str) -> None:
    one = kept_more(engine)
    assert isinstance(offer(engine, one, NOW), Offered)
    assert code(keep_more(engine, MORE, NOW)) == "quote.waits"
    assert isinstance(move(engine, one, "withdrawn", NOW), KeptQuote)
    assert kept_of(engine, kept_more(engine)).quote.number == "2026-0001/2"


def test_a_first_that_is_not_agreed_takes_none(engine: Engine) -> None:
    evaluation = create(engine, "violin", {"start": {}, "answers": {}}, NOW)
    keep_draft(engine, evaluation, FIRST, NOW)
    assert code(keep_more(engine, MORE, NOW)) == "quote.first_closed"
    assert code(keep_more(engine, replace(MORE, belongs_to="2026-0099"), NOW)) == "quote.unknown"


def test_its_work_goes_along_with_the_first(engine: Engine, first: str) -> None:
    early = agreed(engine, kept_more(engine))
    assert state(engine, early) == "agreed"
    begin(engine, first)
    assert state(engine, early) == "work_begun"
    late = agreed(engine, kept_more(engine))
    assert state(engine, late) == "work_begun", "the work it adds to has begun"
    refused = agreed(engine, kept_more(engine), "no")
    draft = kept_more(engine)
    assert isinstance(call_done(engine, first, NOW), KeptQuote)
    states = [state(engine, one) for one in (first, early, late, refused, draft)]
    assert states == ["done", "done", "done", "declined", "withdrawn"]


def test_work_is_not_done_while_the_customer_is_still_asked(engine: Engine, first: str) -> None:
    begin(engine, first)
    one = kept_more(engine)
    offer(engine, one, NOW)
    assert code(call_done(engine, first, NOW)) == "quote.waits"
    assert state(engine, first) == "work_begun"
    move(engine, one, "withdrawn", NOW)
    assert isinstance(call_done(engine, first, NOW), KeptQuote)


def test_a_newer_first_takes_the_place_of_both(engine: Engine, first: str) -> None:
    one = kept_more(engine)
    offer(engine, one, NOW)
    new = keep_draft(engine, kept_of(engine, first).evaluation, FIRST, NOW)
    assert isinstance(offer(engine, new, NOW), Offered)
    assert [state(engine, which) for which in (first, one, new)] == ["superseded", "superseded", "offered"]


def test_a_draft_can_be_changed_and_what_was_offered_cannot(engine: Engine, first: str) -> None:
    one = kept_more(engine)
    job = kept_of(engine, one).quote.lines[0].job
    change = Change("set", job, say="Dearer wood")
    assert isinstance(add_change(engine, one, 0, change, NOW), KeptQuote)
    assert kept_of(engine, one).quote.lines[0].say == "Dearer wood"
    assert code(add_change(engine, first, 0, change, NOW)) == "edit.late"
    assert code(add_change(engine, "none", 0, change, NOW)) == "quote.unknown"
