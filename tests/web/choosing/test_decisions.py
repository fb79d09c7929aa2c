"""Choosing, comparing and taking in trade through the pages: questions first, figures after, papers of one page."""

import json
import re
from collections.abc import Callable
from io import BytesIO
from typing import Any

import pytest
from pypdf import PdfReader

from evaluator.result.json_form import result_json
from evaluator.rubric.written.kinds import ThreePoint
from evaluator.store.evaluations import create, find, finish, save_answers
from evaluator.web.service import Service
from tests.papers.cases import in_numbers
from tests.web.conftest import NOW, Client, check_headers

Make = Callable[..., str]
SETTLED = "protected=none&owner=yes&document=yes"


@pytest.fixture
def make(service: Service) -> Make:
    """Keep an evaluation of this title and asking price; the id comes back."""

    def made(title: str, asking: str = "500", family: str = "violin", **start: str) -> str:
        typed = {"title": title, "size": "4/4", "style": "classical", "tier": "student", "looker": "luthier"}
        typed |= {"asking": asking, "currency": "USD", "ready_value": "1200", **start}
        return create(service.engine, family, {"start": typed, "answers": {}}, NOW)

    return made


def address(*identities: str, page: str = "/compare") -> str:
    return f"{page}?{'&'.join(f'id={one}' for one in identities)}"


def test_the_front_page_leads_to_the_choice_once_there_are_two(client: Client, make: Make) -> None:
    make("One")
    assert "Compare the ticked" not in client.get("/").text
    make("Two")
    assert "Compare the ticked" in client.get("/").text
    page = client.get("/compare")
    assert "One" in page.text and "Two" in page.text and "Asked $500" in page.text


def test_the_ticked_of_the_front_page_are_compared(client: Client, make: Make) -> None:
    one, two = make("Dear one", "900"), make("Cheap one", "500")
    front = client.get("/")
    assert front.form_element("/compare") is not None
    assert front.source.count('type="checkbox"') == 2 and "Asked $900" in front.text
    assert "to own at its standard" in client.get(address(one, two)).text
    assert "You chose one instrument" in client.get(address(one), 422).text
    assert "Which ones, side by side?" in client.get("/compare?").text


def test_a_finished_one_is_compared_and_taken_in_by_the_figures_it_was_shown_by(
    client: Client, service: Service, make: Make
) -> None:
    done, draft = make("Done", "900", ready_value=""), make("Open", "900", ready_value="")
    for identity in (done, draft):
        save_answers(service.engine, identity, 1, {"soundpost_standing": {"outcome": "fallen"}}, NOW)
    kept = find(service.engine, done)
    assert kept is not None
    finish(service.engine, done, kept.version, result_json(service.result(kept)), "x", NOW)
    before = by_name(client, done, draft)
    offer = client.get(f"/evaluations/{done}/trade-in?{SETTLED}").heading
    dearer = {
        name: ThreePoint(low=rate.low * 3, likely=rate.likely * 3, high=rate.high * 3)
        for name, rate in service.shop.rates.items()
    }
    service.shop = service.shop.model_copy(update={"rates": dearer})
    after = by_name(client, done, draft)
    assert before["Done"]["work"] == before["Open"]["work"] == after["Done"]["work"]
    assert after["Open"]["work"] > 2 * before["Open"]["work"]
    assert after["Done"]["next_look"] is None and before["Open"]["next_look"] is not None
    assert client.get(f"/evaluations/{done}/trade-in?{SETTLED}").heading == offer
    assert "on which they were finished: Done" in client.get(address(done, draft)).text


def by_name(client: Client, *identities: str) -> dict[str, Any]:
    rows = client.http.get(address(*identities, page="/compare.json")).get_json()["candidates"]
    return {row["name"]: in_numbers(row) for row in rows}


def test_a_snapshot_without_prices_of_parts_says_what_to_do(client: Client, service: Service, make: Make) -> None:
    identity = make("Old")
    save_answers(
        service.engine,
        identity,
        1,
        {"string_age": {"outcome": "dull"}, "bridge_fitted_feet": {"outcome": "flat_from_packet"}},
        NOW,
    )
    kept = find(service.engine, identity)
    assert kept is not None
    old = json.loads(json.dumps(result_json(service.result(kept))))
    del old["plan"]["parts_likely"]
    finish(service.engine, identity, kept.version, old, "x", NOW)
    assert "Look at it again" in client.get(f"/evaluations/{identity}/trade-in?{SETTLED}").text


def test_a_result_leads_to_both_decisions(client: Client, make: Make) -> None:
    identity = make("One")
    source = client.get(f"/evaluations/{identity}/result").source
    assert f"/compare?id={identity}" in source and f"/evaluations/{identity}/trade-in" in source
    assert f'value="{identity}" checked' in client.get(f"/compare?id={identity}&choose=1").source


def test_the_cheaper_of_two_equal_ones_is_shown_first(client: Client, make: Make) -> None:
    page = client.get(address(make("Dear one", "900"), make("Cheap one", "500")))
    assert page.source.index("Cheap one</a>") < page.source.index("Dear one</a>")
    assert "$900 to own" in page.text and "not looked at yet" in page.text
    assert "not an insurance or legal appraisal" in page.text


def test_what_cannot_be_compared_comes_back_with_the_choice_kept(client: Client, make: Make) -> None:
    first, second, cello = make("One"), make("No price", ""), make("Low one", family="cello")
    page = client.get(address(first, second), 422)
    assert "No price: it has no asking price." in page.text
    assert page.source.count(" checked") == 2
    assert "a cello, the first one a violin" in client.get(address(first, cello), 422).text
    assert "one instrument" in client.get(address(first, first), 422).text
    seven = [make(f"Number {number}") for number in range(7)]
    assert "7 instruments" in client.get(address(*seven), 422).text


def test_an_unknown_evaluation_is_told(client: Client, make: Make) -> None:
    client.get(address(make("One"), "none-such"), 404)
    client.get("/evaluations/none-such/trade-in", 404)


def test_set_up_money_counts_as_the_shop_says_and_once_when_asked(client: Client, make: Make) -> None:
    path = address(make("One"), make("Two"))
    assert "common practice, no source" in client.get(path).text
    assert "common practice, no source" not in client.get(f"{path}&set_up=once").text


def test_six_candidates_are_one_page_of_paper(client: Client, make: Make) -> None:
    chosen = [make(f"A violin with a rather long name, number {number}", str(400 + number)) for number in range(6)]
    for paper in ("A4", "Letter"):
        with client.http.get(f"{address(*chosen, page='/compare.pdf')}&paper={paper}") as response:
            check_headers(response)
            assert response.mimetype == "application/pdf"
            assert len(PdfReader(BytesIO(response.data)).pages) == 1
    with client.http.get(address(*chosen, page="/compare.json")) as response:
        assert len(response.get_json()["candidates"]) == 6
    assert client.http.get(f"{address(*chosen, page='/compare.pdf')}&paper=A9").status_code == 404


def test_a_paper_of_what_cannot_be_compared_leads_back(client: Client, make: Make) -> None:
    assert client.http.get(address(make("One"), page="/compare.pdf")).status_code == 302


def test_a_choice_that_cannot_be_compared_is_told_to_programs_as_a_problem(client: Client, make: Make) -> None:
    for chosen, said in (((make("One"),), "Chosen: 1"), ((), "Chosen: 0")):
        with client.http.get(address(*chosen, page="/compare.json")) as response:
            assert (response.status_code, response.mimetype) == (422, "application/problem+json")
            assert said in response.get_json()["detail"]


def test_no_figure_before_the_questions_are_settled(client: Client, make: Make) -> None:
    path = f"/evaluations/{make('One')}/trade-in"
    for page in (client.get(path), client.get(f"{path}?protected=unknown"), client.get(f"{path}?protected=none")):
        assert "$" not in page.text
    assert "No figure yet" not in client.get(path).text
    assert "Make no offer" in client.get(f"{path}?protected=forbidden&owner=yes&document=yes").text


def test_the_ways_out_stand_side_by_side(client: Client, make: Make) -> None:
    path = f"/evaluations/{make('One')}/trade-in?{SETTLED}"
    page = client.get(f"{path}&new_price=2,000.00")
    for words in ("Cash today", "Against the next instrument", "The shop sells it for you", "You sell it yourself"):
        assert words in page.text
    assert "The shop earns" not in page.text
    assert "margin" not in page.text.replace("Show our own sheet: margin", "")
    assert "The shop earns most with this one" in client.get(f"{path}&new_price=2,000.00&inside=yes").text
    assert "does not sell: about 1 in 4" in page.text
    assert "ask elsewhere" in page.text and "Nothing on it is of a protected material" in page.text
    assert "Against the next instrument" not in client.get(path).text


def test_a_price_that_is_none_is_told_and_kept(client: Client, make: Make) -> None:
    page = client.get(f"/evaluations/{make('One')}/trade-in?{SETTLED}&ticket=a+lot", 422)
    assert "is not an amount" in page.text and 'value="a lot"' in page.source
    assert "$" not in page.text


def test_the_letter_has_a_number_is_one_page_and_carries_the_answers(client: Client, make: Make) -> None:
    path = f"/evaluations/{make('One')}/trade-in"
    query = f"{SETTLED}&ticket=1500&new_price=2000"
    page = client.get(f"{path}?{query}")
    assert page.form("/offers")["ticket"] == "1500" and page.form("/offers")["new_price"] == "2000"
    cash = re.search(r"\$([0-9,]+) in cash today", page.heading)
    assert cash and int(cash[1].replace(",", "")) % 5 == 0, "as a shop says it"
    kept = client.send(page, action="/offers")
    assert f"${cash[1]}" in kept.text
    with client.http.get(f"{kept.path}/offer.pdf") as response:
        check_headers(response)
        reader = PdfReader(BytesIO(response.data))
        text = " ".join(reader.pages[0].extract_text().split())
    assert len(reader.pages) == 1
    assert "Offer O2026-0001" in text and "valid until" in text and cash[1] in text
    assert "Owner, name and signature" in text
    assert client.http.get(f"{path}.pdf?{query}").status_code == 404, "no letter without a number"


def test_an_address_with_strange_words_is_no_bug(client: Client, make: Make) -> None:
    path = f"/evaluations/{make('One')}/trade-in"
    strange = "protected=none&document=maybe&_external=1&_anchor=x&endpoint=y"
    client.get(f"{path}?{strange}")
    client.get(f"{path}?{SETTLED}&_scheme=x&endpoint=y")
