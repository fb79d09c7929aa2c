"""Comparable sales of one evaluation: from the book, what counts, what is said, on paper and in the result."""

from datetime import date
from io import BytesIO
from typing import Any

import pytest
from pypdf import PdfReader

from evaluator.result.json_form import result_json
from evaluator.store.evaluations import find, finish, save_answers
from evaluator.store.known_sales import add_sales, whole_book
from evaluator.valuation.sales.comparables import Comparable
from evaluator.valuation.sales.sales_file import read_sales
from evaluator.web.service import Service
from tests.web.conftest import NOW, Client


def sale(name: str, price: float, **keys: Any) -> Comparable:
    base: dict[str, Any] = {"sold_on": date(2025, 9, 1), "kind": "dealer_sale", "currency": "USD"}
    return Comparable(name, price=price, **(base | {"family": "violin", "size": "4/4", "tier": "student"} | keys))


FAR = sale("Plainer one", 700, kind="auction", set_up=300.0)
THREE = (sale("Near twin", 1900), sale("Brown one", 1700), sale("Dark one", 1800))


@pytest.fixture
def path(draft: str) -> str:
    return f"/evaluations/{draft}/sales"


def put(service: Service, *sales: Comparable) -> list[str]:
    """The sales into the book; their keys in the order given."""
    add_sales(service.engine, sales, NOW)
    keys = {one.name: one.key for one in whole_book(service.engine).sales}
    return [keys[one.name] for one in sales]


def test_an_empty_book_is_said(client: Client, path: str) -> None:
    page = client.get(path)
    assert page.heading == "What were others sold for?" and "is in the book yet" in page.text


MADE = {
    "purfling": "inlaid_fibre", "purfling_corners": "tidy", "varnish_type": "nitro", "scroll_carving": "plain",
    "fhole_workmanship": "fair", "interior_finish": "furry", "varnish_application": "clean_spray",
    "plate_carved_or_pressed": "machine_carved", "linings": "plain", "fingerboard_material": "other_hardwood",
}  # fmt: skip


def looked_at(service: Service, draft: str, **more: str) -> None:
    """Somebody saw how it was made: factory work."""
    answers = {name: {"outcome": outcome} for name, outcome in (MADE | more).items()}
    save_answers(service.engine, draft, 1, answers, NOW)


def test_three_of_the_like_are_gone_by_once_its_making_was_seen(
    client: Client, service: Service, draft: str, path: str
) -> None:
    before = client.get(path).text
    assert "in the book yet" in before
    put(service, *THREE, FAR, sale("A viola", 9000, family="viola", size="405 mm"))
    page = client.get(path)
    assert page.heading.startswith("About $1,") and "from 4 sales" in page.text and "A viola" not in page.text
    assert "a check, hardly evidence" in page.text and "not an insurance or legal appraisal" in page.text
    json = client.http.get(path.replace("/sales", "/result.json")).get_json()
    verdict = json["verdict"]
    assert (verdict["ready_value"], verdict["ready_value_missing"]) == (None, "nothing_seen")
    assert len(verdict["known_sales"]["rows"]) == 4
    looked_at(service, draft)
    json = client.http.get(path.replace("/sales", "/result.json")).get_json()
    verdict = json["verdict"]
    assert json["words"]["ready_value_from"].startswith("from 4 sales of your own book; between $1,")
    assert verdict["ready_value_kind"] == "comparables"
    span = verdict["ready_range"]
    low, value, high = (float(one["amount"]) for one in (span["low"], verdict["ready_value"], span["high"]))
    assert low <= value <= high


def test_two_are_too_few_but_can_become_the_own_figure(client: Client, service: Service, draft: str, path: str) -> None:
    put(service, *THREE[:2])
    page = client.get(path)
    assert "Only 2 had to be adjusted by less than half" in page.text
    client.send(page, action=f"{path}/own")
    kept = find(service.engine, draft)
    assert kept is not None and kept.typed["start"]["ready_value"] == "1820"


def test_one_is_set_aside_another_graded_and_that_stays(client: Client, service: Service, path: str) -> None:
    near, brown, _dark, far = put(service, *THREE, FAR)
    page = client.get(path)
    form = page.form(path)
    del form[f"counts_{near}"]
    page = client.post(path, form | {f"grade_{brown}": "1.2", "leave_out": "yes"})
    table = page.text.split("Which of them count")[0]
    assert "Near twin" not in table and "2,0" in table and "1 left out" in page.text and "Plainer" not in table
    assert f'name="grade_{brown}" value="1.2"' in page.source
    assert "from 2 sales" in client.get(path).text and far in page.source


@pytest.mark.parametrize(
    ("share", "told"),
    [
        ("0", "not between 0.01 and 1"),
        ("1.5", "Write 1.5 % or 0.015."),
        ("nan", "not a number"),
        ("much", "not a number"),
    ],
)
def test_a_share_or_grade_that_is_none_is_told_and_kept(
    client: Client, service: Service, path: str, share: str, told: str
) -> None:
    key = put(service, *THREE)[0]
    page = client.post(path, client.get(path).form(path) | {"retention": share, f"grade_{key}": "-1"}, 422)
    assert told in page.text and "Write 1 for made as well" in page.text and f'value="{share}"' in page.source
    assert "from 3 sales" in client.get(path).text


def test_two_pages_open_at_once_lose_nothing(client: Client, service: Service, path: str) -> None:
    put(service, *THREE)
    first = client.get(path).form(path)
    client.post(path, first | {"retention": "0.9"})
    page = client.post(path, first | {"retention": "0.8"}, 422)
    assert "Somebody else changed" in page.text and 'value="0.8"' in page.source


def test_the_table_goes_to_paper_and_the_list_to_a_file(client: Client, service: Service, path: str) -> None:
    put(service, *THREE)
    reader = PdfReader(BytesIO(client.http.get(f"{path}.pdf").data))
    text = " ".join(reader.pages[0].extract_text().split())
    assert len(reader.pages) == 1 and "Near twin" in text and "insurance or legal appraisal" in text
    listed = client.http.get(f"{path}.csv").get_data(as_text=True)
    read, problems = read_sales(listed, "x", "USD", date(2026, 3, 4))
    assert problems == () and {one.name for one in read} == {one.name for one in THREE}


def test_a_finished_one_keeps_the_table_that_it_was_valued_by(client: Client, service: Service, draft: str) -> None:
    put(service, *THREE)
    kept = find(service.engine, draft)
    assert kept is not None
    finish(service.engine, draft, kept.version, result_json(service.result(kept)), "x", NOW)
    add_sales(service.engine, [sale("Much dearer", 9000), sale("Dearer still", 9500)], NOW)
    page = client.get(f"/evaluations/{draft}/sales")
    assert page.heading.startswith("About $1,820") and "Much dearer" not in page.text
    assert "Which of them count" not in page.text


def test_lasting_faults_are_said_with_their_shares(client: Client, service: Service, draft: str) -> None:
    looked_at(service, draft, back_crack="repaired", pegbox_crack="old_repaired")
    assert "Faults that stay leave" in client.get(f"/evaluations/{draft}/sales").text
    json = client.http.get(f"/evaluations/{draft}/result.json").get_json()
    verdict = json["verdict"]
    back, box = (one["left"] for one in verdict["lasting"]["faults"])
    assert verdict["lasting"]["left"] == pytest.approx(back * box, abs=0.01), (
        "a back and a cheek crack have origins of their own"
    )
    assert "its lasting faults leave" in json["words"]["ready_value_from"]
