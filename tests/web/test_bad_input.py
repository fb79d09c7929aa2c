"""What a person can mistype or a stranger can send: the same page, the text kept, one sentence, nothing by halves."""

from html import escape

import pytest

from evaluator.store.evaluations import find, newest
from evaluator.web.service import Service
from tests.web.conftest import Client
from tests.web.page import Page

LENGTH, MASS = "body_length", "weight_without_chin_rest"
NO_NUMBERS = [
    "-3 mm",
    "4,5,6",
    "NaN",
    "1e999",
    "12 kg",
    "about 355",
    "٣٥٥ mm",
    "355 mm; 12 kg",
    "3" * 100,
    "\x00\x01\xff",
    "🎻",
]
STRANGE = ["<img src=x>", "<b>bold</b>", "{{ 7*7 }}", "';--", "\u202eevil", "Łódź Žižkov Κως Київ"]


def kept_answers(service: Service, identity: str) -> dict[str, dict[str, str]]:
    kept = find(service.engine, identity)
    assert kept is not None
    return dict(kept.typed["answers"])


def sentences(page: Page) -> list[str]:
    """What the page says is wrong, without the line at its top."""
    return [
        one.text
        for one in page.tree.find("p")
        if one.attributes.get("class") == "wrong" and "role" not in one.attributes
    ]


@pytest.mark.parametrize("text", NO_NUMBERS)
def test_a_reading_that_is_none_keeps_its_text_and_is_told_in_one_sentence(
    client: Client, service: Service, draft: str, text: str
) -> None:
    path = f"/evaluations/{draft}/parts/whole"
    page = client.send(client.get(path), {f"r-{LENGTH}": text, f"r-{MASS}": "410"}, 422)
    assert page.path == path
    told = sentences(page)
    assert len(told) == 1 and told[0].endswith(".") and not told[0][:1].islower(), told
    assert page.form()[f"r-{LENGTH}"] == text.strip()
    assert page.form()[f"r-{MASS}"] == "410"
    assert kept_answers(service, draft)[MASS]["reading"] == "410", "what can be read is saved"
    assert "Not counted yet" in client.get(f"/evaluations/{draft}/result").text
    kept = find(service.engine, draft)
    assert kept is not None
    assert set(service.result(kept).conformity) == {MASS}, "what cannot be read is not counted"
    mended = client.send(client.get(path), {f"r-{LENGTH}": "355,5"})
    assert mended.path != path
    assert kept_answers(service, draft)[LENGTH]["reading"] == "355,5"


def test_several_mistakes_are_all_told_at_once(client: Client, draft: str) -> None:
    typed = {f"r-{LENGTH}": "long", f"r-{MASS}": "heavy", "r-body_stop": "12 kg"}
    page = client.send(client.get(f"/evaluations/{draft}/parts/whole"), typed, 422)
    assert len(sentences(page)) == 3


@pytest.mark.parametrize(
    ("fields", "where"),
    [
        ({"q-body_length": "purple"}, "an outcome that is not there"),
        ({f"r-{LENGTH}": "355", f"u-{LENGTH}": "parsec"}, "a unit that is not there"),
        ({f"r-{LENGTH}": "355", f"t-{LENGTH}": "crystal_ball"}, "a tool that is not there"),
        ({f"r-{LENGTH}": "355", f"s-{LENGTH}": "in_a_dream"}, "a way of seeing that is not there"),
        ({f"r-{LENGTH}": "355", f"n-{LENGTH}": "x" * 5_000}, "a note that is too long"),
        ({f"n-{LENGTH}": "x" * 500_000}, "a note alone that is far too long"),
    ],
)
def test_what_no_page_offers_is_refused_and_not_counted(
    client: Client, service: Service, draft: str, fields: dict[str, str], where: str
) -> None:
    page = client.get(f"/evaluations/{draft}/parts/whole")
    refused = client.post(page.path, {**page.form(), **fields}, 422)
    assert len(sentences(refused)) == 1, where
    assert len(sentences(refused)[0]) < 400
    kept = find(service.engine, draft)
    assert kept is not None
    assert service.result(kept).coverage == 0


def test_an_unknown_check_is_not_saved(client: Client, service: Service, draft: str) -> None:
    page = client.get(f"/evaluations/{draft}/parts/whole")
    client.post(page.path, {**page.form(), "q-moon_phase": "full", "r-purfling": "3"})
    assert kept_answers(service, draft) == {}


def test_a_huge_post_is_refused_whole(client: Client, service: Service, draft: str) -> None:
    page = client.get(f"/evaluations/{draft}/parts/whole")
    before = find(service.engine, draft)
    refused = client.post(page.path, {**page.form(), f"n-{LENGTH}": "x" * 10_000_000, f"r-{MASS}": "410"}, 413)
    assert refused.heading == "That is too much for one page"
    assert find(service.engine, draft) == before


@pytest.mark.parametrize("kind", ["application/x-www-form-urlencoded", "application/octet-stream", "text/plain"])
def test_a_binary_post_is_refused_whole(client: Client, service: Service, draft: str, kind: str) -> None:
    before = find(service.engine, draft)
    answer = client.http.post(f"/evaluations/{draft}/parts/whole", data=bytes(range(256)) * 40, content_type=kind)
    assert answer.status_code == 400
    assert find(service.engine, draft) == before


@pytest.mark.parametrize("text", STRANGE)
def test_a_strange_name_prints_as_typed(client: Client, text: str) -> None:
    typed = {"title": text, "about": f"said: {text}"}
    page = client.send(client.get("/new/violin"), typed)
    identity = page.path.split("/")[2]
    client.send(client.get(f"/evaluations/{identity}/parts/whole"), {f"r-{LENGTH}": "355", f"n-{LENGTH}": text})
    for path in ("/", f"/evaluations/{identity}/result", f"/evaluations/{identity}/parts/whole"):
        shown = client.get(path)
        assert " ".join(text.split()) in shown.text, path
        assert escape(text, quote=False) in shown.source.replace("&#39;", "'").replace("&#34;", '"')
        assert not shown.tree.find("img", src="x") and not shown.tree.find("b")
    assert client.get(f"/evaluations/{identity}/start").form()["title"] == text


@pytest.mark.parametrize(
    ("fields", "name"),
    [
        ({"asking": "cheap"}, "asking"),
        ({"asking": "-5"}, "asking"),
        ({"asking": "NaN"}, "asking"),
        ({"asking": "1e999"}, "asking"),
        ({"ready_value": "4,5,6"}, "ready_value"),
        ({"year": "3 BC"}, "year"),
        ({"title": "x" * 500}, "title"),
    ],
)
def test_the_first_page_keeps_what_was_typed(
    client: Client, service: Service, fields: dict[str, str], name: str
) -> None:
    page = client.send(client.get("/new/violin"), {"title": "Red one", "about": "no label", **fields}, 422)
    assert len(sentences(page)) == 1
    assert page.tree.find("p", id=f"wrong-{name}")[0].text == sentences(page)[0]
    sent = page.form()
    assert (sent[name], sent["about"]) == (fields[name], "no label")
    assert newest(service.engine) == ()


@pytest.mark.parametrize("fields", [{"size": "9/4"}, {"tier": "royal"}, {"currency": "XXX"}, {"looker": "cat"}])
def test_a_forged_first_page_makes_nothing(client: Client, service: Service, fields: dict[str, str]) -> None:
    client.send(client.get("/new/violin"), fields, 422)
    assert newest(service.engine) == ()
