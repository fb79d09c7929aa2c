"""Everything written out reads back in another house to the same figures; what was changed on the way is told."""

import hashlib
import io
import json
import zipfile
from collections.abc import Callable
from dataclasses import replace
from datetime import date
from decimal import Decimal
from pathlib import Path
from typing import Any

import pytest
from PIL import Image

from evaluator.basis.money import Money
from evaluator.basis.problem import Problem
from evaluator.exchange.archive import all_evaluations, write_archive
from evaluator.exchange.bringing import Brought, read_archive
from evaluator.exchange.evaluation_file import typed_from
from evaluator.exchange.putting_in import bring_in
from evaluator.fleet.judging import data_of
from evaluator.fleet.sources import Source
from evaluator.result.json_form import result_json
from evaluator.rubric.shop import Shop
from evaluator.store.desk.offers import accept_offer, all_offers, all_stock, keep_offer
from evaluator.store.engine import open_database
from evaluator.store.evaluations import add_photo, create, find, finish, save_look, save_sales_choices
from evaluator.store.known_sales import add_sales, whole_book
from evaluator.store.photos import keep_photo, photo_path
from evaluator.store.quotes import find_quote, offer
from evaluator.store.workshop.bills import bills_of, give_bill, give_credit, payments_of, take_payment
from evaluator.store.workshop.customers import add_customer, add_instrument, households, search
from evaluator.store.workshop.drafts import keep_draft
from evaluator.store.workshop.timeline import put_to
from evaluator.valuation.sales.comparables import Comparable
from evaluator.web.service import Service
from tests.choosing.test_offer_letter import item, letter
from tests.fleet.fleets import EXAMPLES
from tests.store.test_bills import BILL
from tests.web.conftest import NOW, database, loaded, service, shop, worked  # noqa: F401

House = Callable[[str], Service]


@pytest.fixture
def house(tmp_path: Path, shop: Shop, service: Service) -> House:  # noqa: F811
    """Another installation by name, with the same prices."""

    def made(name: str) -> Service:
        return Service(open_database(tmp_path / name / "kept.sqlite"), shop, now=lambda: NOW, _rubrics=service._rubrics)

    return made


def a_sale(number: int) -> Comparable:
    what = {"family": "violin", "size": "4/4", "tier": "intermediate"}
    return Comparable(f"Violin {number}", date(2026, 1, 31), "dealer_sale", 1500.0 + number, "USD", **what)


def filled(here: Service) -> tuple[str, str, str]:
    """A draft with a photo, two answers to one look and a choice about a sale; a finished one; its quote."""
    data = [data_of(Source(path.name, path.read_bytes())) for path in (EXAMPLES[4], EXAMPLES[0])]
    assert not any(isinstance(one, tuple) for one in data)
    draft, finished = (
        create(here.engine, one["rubric"], typed_from(one), NOW) for one in data if not isinstance(one, tuple)
    )
    add_sales(here.engine, [a_sale(number) for number in range(4)], NOW)
    picture = io.BytesIO()
    Image.new("RGB", (60, 40), "brown").save(picture, "JPEG")
    name = keep_photo(here.photos_folder, picture.getvalue())
    assert isinstance(name, str)
    add_photo(here.engine, draft, "purfling", {"name": name, "by": "Ada", "at": NOW}, NOW)
    save_look(here.engine, draft, 1, "top_crack", {"outcome": "cannot_tell", "by": "Ben"}, NOW, "another")
    kept = find(here.engine, draft)
    assert kept is not None
    away = whole_book(here.engine).kept[0].sale.key
    save_sales_choices(here.engine, draft, kept.version, {"set_aside": [away]}, NOW)
    kept = find(here.engine, finished)
    assert kept is not None
    found = here.result(kept)
    finish(here.engine, finished, kept.version, result_json(found), found.rubric.hash, NOW)
    from evaluator.quoting.draft import quote_of

    assert found.quotable is not None
    quote = keep_draft(here.engine, finished, quote_of(found.quotable, "", here.today(), "Trade-in"), NOW)
    offer(here.engine, quote, NOW)
    taken_in(here, finished)
    return draft, finished, quote


def taken_in(here: Service, identity: str) -> None:
    """An offer that was accepted, and the item that is ours by it."""
    kept = keep_offer(here.engine, replace(letter(), evaluation=identity), NOW)
    found = accept_offer(
        here.engine, kept.id, "cash", here.today(), NOW, lambda _: replace(item(), evaluation=identity)
    )
    assert not isinstance(found, Problem)


def billed(here: Service, evaluation: str, quote: str) -> str:
    """A customer with the instrument that was looked at, a bill, a payment; gives the number of the bill."""
    who = add_customer(here.engine, {"name": "Ada Bell", "telephone": "555 0101"}, NOW)
    assert isinstance(who, str)
    thing = add_instrument(here.engine, who, {"name": "Brown violin", "family": "violin"}, NOW)
    assert isinstance(thing, str)
    assert put_to(here.engine, evaluation, thing)
    given = give_bill(here.engine, quote, BILL, "B2026-{number}", NOW)
    assert not isinstance(given, Problem), given
    take_payment(here.engine, quote, here.today(), Money(Decimal("20.00"), "USD"), "cash", "", "P2026-{number}", NOW)
    return given.bill.number


def test_customers_bills_and_payments_come_along_and_their_numbers_go_on(service: Service, house: House) -> None:  # noqa: F811
    _, finished, quote = filled(service)
    number = billed(service, finished, quote)
    there = house("there")
    packed = brought(written(service))
    came = bring_in(there.engine, there.photos_folder, packed, NOW)
    assert came.workshop == 5 and not came.taken
    assert bills_of(there.engine, quote) == bills_of(service.engine, quote)
    assert payments_of(there.engine, quote) == payments_of(service.engine, quote)
    assert households(there.engine) == households(service.engine)
    assert [one[0].name for one in search(there.engine, "brown")] == ["Ada Bell"]
    (first,) = bills_of(there.engine, quote)
    credit = give_credit(there.engine, first.id, there.today(), "A slip", "B2026-{number}", NOW)
    assert not isinstance(credit, Problem)
    assert (number, credit.bill.number) == ("B2026-0001", "B2026-0002")
    again = bring_in(there.engine, there.photos_folder, packed, NOW)
    assert again.workshop == 0 and again.here_already == came.workshop + 9


def written(here: Service) -> bytes:
    out = io.BytesIO()
    write_archive(out, here.engine, here.photos_folder, lambda kept: result_json(here.result(kept)), NOW)
    return out.getvalue()


def brought(content: bytes) -> Brought:
    found = read_archive(io.BytesIO(content))
    assert isinstance(found, Brought), found
    return found


def test_another_house_reads_it_back_to_the_same_figures(service: Service, house: House) -> None:  # noqa: F811
    draft, finished, quote = filled(service)
    packed, there = written(service), house("there")
    came = bring_in(there.engine, there.photos_folder, brought(packed), NOW)
    assert (came.evaluations, came.quotes, came.sales, came.photos, came.here_already) == (2, 1, 4, 1, 0)
    for identity in (draft, finished):
        before, after = find(service.engine, identity), find(there.engine, identity)
        assert before is not None
        assert after is not None
        assert result_json(there.result(after)) == result_json(service.result(before))
        assert (after.state, after.version, after.title) == (before.state, before.version, before.title)
    old, new = find_quote(service.engine, quote), find_quote(there.engine, quote)
    assert old is not None
    assert new is not None
    assert (new.quote, new.chain, new.quote.fingerprint()) == (old.quote, old.chain, old.quote.fingerprint())
    assert all_offers(there.engine) == all_offers(service.engine)
    assert all_stock(there.engine) == all_stock(service.engine)
    assert whole_book(there.engine).sales == whole_book(service.engine).sales
    (photo,) = brought(packed).photos
    path = photo_path(there.photos_folder, photo)
    assert path is not None
    again = [zipfile.ZipFile(io.BytesIO(one)) for one in (packed, written(there))]
    assert {name: again[0].read(name) for name in again[0].namelist()} == {
        name: again[1].read(name) for name in again[1].namelist()
    }, "and writes out the same files"


def test_what_is_here_already_stays_as_it_is(service: Service) -> None:  # noqa: F811
    filled(service)
    packed = written(service)
    came = bring_in(service.engine, service.photos_folder, brought(packed), NOW)
    assert (came.evaluations, came.quotes, came.sales, came.here_already) == (0, 0, 0, 9)
    assert len(list(all_evaluations(service.engine))) == 2


def test_a_number_that_another_quote_has_here_is_told(service: Service, house: House) -> None:  # noqa: F811
    filled(service)
    there = house("there")
    filled(there)
    came = bring_in(there.engine, there.photos_folder, brought(written(service)), NOW)
    assert (came.evaluations, came.quotes, came.taken) == (2, 0, ("2026-0001", "O2026-0001", "S2026-0001"))


def test_every_evaluation_in_it_is_a_file_of_the_command_line(service: Service) -> None:  # noqa: F811
    draft, _, _ = filled(service)
    with zipfile.ZipFile(io.BytesIO(written(service))) as archive:
        data = data_of(Source("x.yaml", archive.read(f"evaluations/{draft}.yaml")))
        assert not isinstance(data, tuple)
        assert data["title"] == "Good body, raw set-up"
        assert archive.read("sales.csv").startswith(b"name,sold_on,")
        assert "token_hash" not in archive.read(archive.namelist()[-2]).decode("utf-8", "replace")
        assert not [name for name in archive.namelist() if "people" in name or "session" in name]


def repacked(content: bytes, change: Callable[[dict[str, bytes]], None]) -> bytes:
    """The archive with its files changed, and its list of hashes as it was."""
    with zipfile.ZipFile(io.BytesIO(content)) as archive:
        files = {name: archive.read(name) for name in archive.namelist()}
    change(files)
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as archive:
        for name, one in files.items():
            archive.writestr(name, one)
    return out.getvalue()


def dropped(files: dict[str, bytes]) -> None:
    del files["sales.json"]


def edited(files: dict[str, bytes]) -> None:
    files["evaluations.json"] = files["evaluations.json"].replace(b"draft", b"draft ")


def newer(files: dict[str, bytes]) -> None:
    manifest: dict[str, Any] = json.loads(files["manifest.json"])
    files["manifest.json"] = json.dumps(manifest | {"format": 99}).encode()


def foreign(files: dict[str, bytes]) -> None:
    files["manifest.json"] = b'{"files": {}}'


def bomb(files: dict[str, bytes]) -> None:
    files["big.txt"] = b"0" * 30_000_000


def rewritten(files: dict[str, bytes], name: str, content: bytes) -> None:
    """Another content under a name, and its hash with it: as somebody would who wrote it on purpose."""
    manifest: dict[str, Any] = json.loads(files["manifest.json"])
    manifest["files"][name] = hashlib.sha256(content).hexdigest()
    files |= {name: content, "manifest.json": json.dumps(manifest).encode()}


def nothing_told(files: dict[str, bytes]) -> None:
    rewritten(files, "evaluations.json", b"{}")


def a_list(files: dict[str, bytes]) -> None:
    rewritten(files, "evaluations.json", b"[]")


def another_shape(files: dict[str, bytes]) -> None:
    name = next(name for name in files if name.startswith("evaluations/"))
    rewritten(files, name, b"rubric: violin\nobservations: [1, 2]\n")


def no_rubric(files: dict[str, bytes]) -> None:
    name = next(name for name in files if name.startswith("evaluations/"))
    rewritten(files, name, b"title: x\n")


@pytest.mark.parametrize(
    ("change", "code"),
    [
        (dropped, "missing"),
        (edited, "changed"),
        (newer, "newer"),
        (foreign, "other"),
        (bomb, "bomb"),
        (nothing_told, "unreadable"),
        (a_list, "unreadable"),
        (another_shape, "unreadable"),
        (no_rubric, "unreadable"),
    ],
    ids=lambda one: getattr(one, "__name__", one),
)
def test_what_is_wrong_with_an_archive_is_told(
    service: Service,  # noqa: F811
    change: Callable[[dict[str, bytes]], None],
    code: str,
) -> None:
    filled(service)
    found = read_archive(io.BytesIO(repacked(written(service), change)))
    assert isinstance(found, Problem)
    assert found.code == f"archive.{code}"


@pytest.mark.parametrize("content", [b"", b"PK\x03\x04", b"not a ZIP at all"])
def test_what_is_no_archive_is_told(content: bytes) -> None:
    found = read_archive(io.BytesIO(content))
    assert isinstance(found, Problem)
    assert found.code == "archive.broken"
