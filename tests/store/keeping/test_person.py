"""All that is kept of one customer is handed over, nothing of another, and no token; erased, the card is gone."""

import io
import json
import zipfile
from pathlib import Path

from sqlalchemy import Engine, insert

from evaluator.store.engine import writing
from evaluator.store.evaluations import create
from evaluator.store.keeping.person import everything_of, handed_over
from evaluator.store.records import Records
from evaluator.store.workshop.customers import add_customer, add_instrument, erase_customer
from evaluator.store.workshop.tables import instrument_looks, instrument_notes
from tests.store.filled import NOW, Filled, fill


def owned(engine: Engine, name: str, evaluation: str) -> str:
    """A customer with an instrument that was looked at."""
    customer = add_customer(engine, {"name": name, "telephone": "555 0100"}, NOW)
    assert isinstance(customer, str)
    instrument = add_instrument(engine, customer, {"name": f"{name}'s violin"}, NOW)
    with writing(engine) as connection:
        connection.execute(insert(instrument_looks).values(evaluation=evaluation, instrument=instrument))
        note = {"id": f"n{customer[:8]}", "instrument": instrument, "on": NOW[:10], "text": "A string", "by": "Ben"}
        connection.execute(insert(instrument_notes).values(**note))
    return customer


def records_of(engine: Engine, tmp_path: Path) -> tuple[Filled, str, str]:
    filled = fill(engine, Records(tmp_path))
    other = create(engine, "cello", {"start": {"title": "Of Ben"}, "answers": {}}, NOW)
    return filled, owned(engine, "Anna Example", filled.draft), owned(engine, "Ben Example", other)


def test_everything_of_one_and_nothing_of_another(engine: Engine, tmp_path: Path) -> None:
    filled, anna, ben = records_of(engine, tmp_path)
    found = everything_of(engine, anna)
    assert [row["id"] for row in found["evaluations"]] == [filled.draft]
    assert [row["id"] for row in found["quotes"]] == [filled.quote]
    counts = {name: len(rows) for name, rows in found.items()}
    assert {
        "customers": 1,
        "instruments": 1,
        "instrument_notes": 1,
        "consents": 2,
        "guest_links": 1,
    }.items() <= counts.items()
    assert "Ben Example" not in json.dumps(found) and "token_hash" not in json.dumps(found)
    assert "quotes" not in everything_of(engine, ben)
    assert everything_of(engine, "nobody") == {}


def test_it_is_one_file_with_the_photos(engine: Engine, tmp_path: Path) -> None:
    filled, anna, _ = records_of(engine, tmp_path)
    with zipfile.ZipFile(io.BytesIO(handed_over(engine, Records(tmp_path).photos, anna))) as archive:
        names = set(archive.namelist())
        card = json.loads(archive.read("customers.json"))
    assert {f"photos/{filled.photo}.jpg", "evaluations.json", "consents.json"} <= names
    assert card[0]["record"]["telephone"] == "555 0100"
    assert handed_over(engine, Records(tmp_path).photos, "nobody") == b""


def test_erased_the_card_is_gone(engine: Engine, tmp_path: Path) -> None:
    _, _, ben = records_of(engine, tmp_path)
    assert erase_customer(engine, ben, NOW) is None
    found = json.dumps(everything_of(engine, ben))
    assert "Ben Example" not in found and "555 0100" not in found
