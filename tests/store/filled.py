"""Records with something of everything in them, for tests of backups and moves."""

import io
import json
from dataclasses import dataclass
from datetime import UTC, date, datetime
from pathlib import Path

from PIL import Image
from sqlalchemy import Engine, select

from evaluator.quoting.answers import all_yes
from evaluator.quoting.consent import head
from evaluator.quoting.quote import up_to
from evaluator.store.engine import reading
from evaluator.store.evaluations import add_photo, create, finish, save_answers
from evaluator.store.guests import make_link
from evaluator.store.keeping.rows import mark_of, rows_of, tables_of
from evaluator.store.known_sales import add_sales
from evaluator.store.people import add_person, begin_session, make_code, note_deed
from evaluator.store.photos import keep_photo
from evaluator.store.quotes import Offered, answer, find_quote, offer
from evaluator.store.records import Records, secret_key
from evaluator.store.workshop.drafts import keep_draft
from evaluator.valuation.sales.comparables import Comparable
from tests.quoting.test_quote import quote_of

NOW = "2026-03-03T09:00:00+00:00"
AT = datetime(2026, 3, 3, 9, 0, tzinfo=UTC)
KEPT = Path(__file__).parents[1] / "result" / "kept"


@dataclass(frozen=True)
class Filled:
    draft: str
    finished: tuple[str, ...]
    quote: str
    photo: str


def picture(shade: int = 100) -> bytes:
    written = io.BytesIO()
    Image.new("RGB", (40, 30), (shade, 20, 30)).save(written, "PNG")
    return written.getvalue()


def fill(engine: Engine, records: Records, more: int = 0) -> Filled:
    """One draft with a photo, the kept results, a quote answered twice, a sale, people, and `more` other drafts."""
    draft = create(engine, "violin", {"start": {"title": "Łódź 🎻"}, "answers": {}}, NOW)
    save_answers(engine, draft, 1, {"purfling": {"outcome": "inlaid", "note": 'a\nb "c"'}}, NOW)
    photo = keep_photo(records.photos, picture())
    assert isinstance(photo, str)
    add_photo(engine, draft, "purfling", {"name": photo}, NOW)
    finished = []
    for path in sorted(KEPT.glob("*.json")):
        finished.append(create(engine, "violin", {"start": {"title": path.stem}, "answers": {}}, NOW))
        finish(engine, finished[-1], 1, json.loads(path.read_text("utf-8")), "hash", NOW)
    quote = _answered(engine, draft)
    sale = Comparable("A red one", date(2026, 2, 3), "auction", 775.5, "USD", family="violin", size="4/4", made=61.5)
    add_sales(engine, [sale], NOW)
    person = add_person(engine, "Anna", "owner", "hash", NOW)
    assert person is not None
    begin_session(engine, "owner", "Anna", NOW, person.id)
    make_code(engine, "phone", NOW)
    make_link(engine, draft, ("purfling",), "For a teacher", NOW)
    note_deed(engine, NOW, "Anna", "came in", "owner")
    note_deed(engine, NOW, "Anna", "went out", "owner")
    for number in range(more):
        create(engine, "violin", {"start": {"title": f"Number {number}"}, "answers": {}}, NOW)
    secret_key(records)
    return Filled(draft, tuple(finished), quote, photo)


def _answered(engine: Engine, evaluation: str) -> str:
    identity = keep_draft(engine, evaluation, quote_of(), NOW)
    assert isinstance(offer(engine, identity, NOW), Offered)
    for word in ("later", "yes"):
        kept = find_quote(engine, identity)
        assert kept is not None
        answers = all_yes(kept.quote) if word == "yes" else dict.fromkeys(all_yes(kept.quote), "later")
        ceiling = up_to(kept.quote, kept.quote.lines)
        found = answer(engine, identity, head(kept.chain), answers, "A. Player", "link", AT, NOW, ceiling)
        assert not isinstance(found, tuple), found
    return identity


def marks(engine: Engine) -> dict[str, list[str]]:
    """The mark of every row, by table."""
    with reading(engine) as connection:
        return {table.name: [mark_of(row) for row in rows_of(connection, table)] for table in tables_of(connection)}


def texts(engine: Engine, table: str) -> list[str]:
    """The rows of a table as texts."""
    with reading(engine) as connection:
        found = next(one for one in tables_of(connection) if one.name == table)
        return [str(row) for row in connection.execute(select(found))]
