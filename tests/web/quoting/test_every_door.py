"""Every door reads what people type by the one reader: all doors times all texts.

A door is how a text goes in, and what comes of it: the value that is read, or None where a sentence is told. That no
door has a reader of its own is shown besides by putting another reader in its place: every door must follow it.
"""

import json
import re
from collections.abc import Callable
from datetime import date
from decimal import Decimal
from functools import lru_cache
from pathlib import Path

import pytest

from evaluator.assessment.observing.case import read_case
from evaluator.basis.typed import money
from evaluator.cli import choosing
from evaluator.cli.files import evaluation_of
from evaluator.cli.main import main
from evaluator.rubric.files.shop_file import load_shop
from evaluator.store.evaluations import newest
from evaluator.store.folders import rubrics_folder
from evaluator.store.known_sales import whole_book
from evaluator.store.quotes import find_by_token
from evaluator.valuation.sales.sales_file import read_sales
from evaluator.web.quoting.view import typed_hours
from evaluator.web.service import Service
from tests.web.conftest import Client
from tests.web.page import Page
from tests.web.quoting.steps import link_of, made, yes_to_all

PRICE, OTHER = Decimal(1450), Decimal("14.5")
# One price in many ways, another, and what is asked back or told.
TEXTS: tuple[tuple[str, Decimal | None], ...] = (
    *((text, PRICE) for text in (
        "1450", "1.450", "1,450", "1,450.00", "1.450,00", "1 450", "1'450", "1\u202f450", "$1450", "1450,-", "USD 1450",
        "1450 USD", "１４５０",
    )),
    ("14.5", OTHER), ("14,50", OTHER),
    *((text, None) for text in ("1450.000", "1,450,5", "€1450", "1e3", "lots", "-5", "1450\x00")),
)  # fmt: skip
HEAD = "name,sold_on,kind,price,currency,family,size,tier"


class House:
    """A service with an evaluation, a quote on its private link, and a folder, for the doors to open onto."""

    def __init__(
        self, client: Client, service: Service, finished: str, path: str, folder: Path, run: Callable[..., str]
    ):
        self.client, self.service, self.finished, self.path = client, service, finished, path
        self.folder, self.run = folder, run


def start(house: House, text: str, field: str) -> Decimal | None:
    client = house.client
    before = {one.id for one in newest(house.service.engine)}
    reply = client.http.post("/new/violin", data=client.get("/new/violin").form() | {field: text})
    new = [one for one in newest(house.service.engine) if one.id not in before]
    assert bool(new) == (reply.status_code == 302)
    case = house.service.read(new[0]).case if new else None
    found = (case.asking if field == "asking" else case.ready_value) if case else None
    return found.amount if found else None


def in_words(house: House, address: str, text: str, field: str) -> Decimal | None:
    """A page that reckons from its address: what it says of a text is what it says of the plain number."""

    def said(typed: str) -> tuple[int, str]:
        reply = house.client.http.get(address, query_string={field: typed, **MORE.get(address, {})})
        page = Page(address, re.sub(r"<form.*?</form>", "", reply.get_data(as_text=True), flags=re.S))
        return reply.status_code, page.text

    got = said(text)
    if got[0] == 422:
        return None
    return next(amount for amount in (PRICE, OTHER) if said(str(amount)) == got)


MORE: dict[str, dict[str, str]] = {}


def trade_in(house: House, text: str, field: str) -> Decimal | None:
    address = f"/evaluations/{house.finished}/trade-in"
    MORE[address] = {"protected": "none", "owner": "yes", "document": "yes"}
    MORE[address] |= {"ticket": "9000"} if field == "new_price" else {}
    return in_words(house, address, text, field)


def ceiling(house: House, text: str) -> Decimal | None:
    """The customer's phone: what was agreed keeps the amount; one below the total is told with it."""
    client, path = house.client, house.path
    page = client.get(path)
    if "You have agreed" in page.text:
        path = house.path = link_of(client, made(client, house.finished))
        page = client.get(path)
    review = client.send(page, {**yes_to_all(page), "go": "review"})
    reply = client.http.post(path, data=review.form() | {"by": "A", "go": "send", "ceiling": text})
    kept = find_by_token(house.service.engine, path.rpartition("/")[2])
    if kept is not None and kept.chain:
        return kept.chain[-1].ceiling.amount
    found = re.search(r"above the ceiling of \$([\d,]+\.\d\d)", reply.get_data(as_text=True))
    return Decimal(found[1].replace(",", "")) if found else None


def option(house: House, text: str, name: str) -> Decimal | None:
    example = rubrics_folder() / "examples" / "good_body_raw_set_up.yaml"
    out = house.run("trade-in", str(example), "--protected", "none", "--owner-shown", f"{name}={text}", "--json")
    key = "ticket_price" if name == "--ticket" else "new_price"
    return Decimal(json.loads(out)[key]["amount"]) if out else None


def file(house: House, text: str) -> Decimal | None:
    rubric = house.service.rubric("violin")
    case, _ = read_case(rubric, {"rubric": "violin", "asking": {"amount": text, "currency": "USD"}})
    return case.asking.amount if case and case.asking else None


def sheet(house: House, text: str) -> Decimal | None:
    row = f'{HEAD}\nA,2026-01-01,listing,"{text}",USD,violin,4/4,student\n'
    read, _ = read_sales(row, "f", "USD", date(2026, 3, 4))
    return Decimal(str(read[0].price)) if read else None


def sale(house: House, text: str) -> Decimal | None:
    fields = {"name": "A", "sold_on": "2026-01-01", "kind": "listing", "price": text, "family": "violin"}
    page = house.client.get("/sales/new").form("/sales/new")
    house.client.http.post("/sales/new", data=page | fields | {"size": "4/4", "tier": "student"})
    kept = whole_book(house.service.engine).kept
    for one in kept:
        house.client.http.post(f"/sales/{one.sale.key}/remove", data=page | {"version": str(one.version)})
    return Decimal(str(kept[0].sale.price)) if kept else None


def shop(house: House, text: str) -> Decimal | None:
    path = house.folder / "shop.yaml"
    path.write_text(f"extends: default\nminimum_charge: {json.dumps(text)}\n", encoding="utf-8")
    found, _ = load_shop(path, rubrics_folder() / "shop.yaml")
    return found.minimum_charge if found else None


DOORS: dict[str, Callable[[House, str], Decimal | None]] = {
    "asking price": lambda house, text: start(house, text, "asking"),
    "own value": lambda house, text: start(house, text, "ready_value"),
    "trade-in, marked at": lambda house, text: trade_in(house, text, "ticket"),
    "trade-in, the next one": lambda house, text: trade_in(house, text, "new_price"),
    "renting": lambda house, text: in_words(house, "/rent-or-buy", text, "price"),
    "owning": lambda house, text: in_words(house, f"/evaluations/{house.finished}/owning", text, "rehair"),
    "repairing": lambda house, text: in_words(house, f"/evaluations/{house.finished}/repair-or-replace", text, "ready"),
    "the customer's ceiling": ceiling,
    "--ticket": lambda house, text: option(house, text, "--ticket"),
    "--new-price": lambda house, text: option(house, text, "--new-price"),
    "evaluation file": file,
    "spreadsheet": sheet,
    "known sale": sale,
    "shop file": shop,
}  # fmt: skip


evaluated = lru_cache(maxsize=1)(evaluation_of)  # what is typed at the command's doors changes nothing of it


@pytest.fixture
def house(
    client: Client, service: Service, finished: str, path: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
) -> House:  # fmt: skip
    monkeypatch.setattr(choosing, "evaluation_of", evaluated)

    def run(*words: str) -> str:
        monkeypatch.setattr("sys.argv", ["evaluator", *words])
        try:
            main()
        except SystemExit as stop:
            assert stop.code in {0, 1, None}
        return capsys.readouterr().out

    return House(client, service, finished, path, tmp_path, run)


@pytest.mark.parametrize("door", DOORS)
def test_every_door_reads_every_text_alike(house: House, door: str) -> None:
    for text, wanted in TEXTS:
        if "\x00" in text and door in {"--ticket", "--new-price"}:
            continue  # no command line can hold it
        assert DOORS[door](house, text) == wanted, text


@pytest.mark.parametrize("door", DOORS)
def test_no_door_has_a_reader_of_its_own(house: House, door: str, monkeypatch: pytest.MonkeyPatch) -> None:
    """With a reader that takes the digits from behind, every door takes them from behind."""
    plain = money._amounts
    monkeypatch.setattr(
        money, "_amounts", lambda text, *rest, **more: plain("1450" if text == "541" else text, *rest, **more)
    )
    assert DOORS[door](house, "541") == PRICE


def test_hours_at_the_bench_are_read_by_the_one_reader() -> None:
    assert {typed_hours(text, "x") for text in ("1:15", "75 min", "1,25", "1 1/4", "1 h 15")} == {1.25}
