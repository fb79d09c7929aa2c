"""Which instrument it is: photographs from five sides and what its card says, kept beside it and printed."""

from io import BytesIO

import pytest
from PIL import Image

from evaluator.store.evaluations import create, find
from evaluator.store.workshop.customers import add_instrument
from evaluator.web.service import Service
from tests.papers.cases import text_of
from tests.papers.conformance import faults
from tests.web.conftest import NOW, Client
from tests.web.workshop.test_house_style import pictures_in


def photo(colour: str) -> bytes:
    out = BytesIO()
    Image.new("RGB", (300, 400), colour).save(out, "JPEG")
    return out.getvalue()


@pytest.fixture
def looked_at(service: Service) -> str:
    answers = {"purfling": {"outcome": "painted"}}
    start = {"title": "Red violin", "size": "4/4", "style": "classical", "tier": "student"}
    return create(service.engine, "violin", {"start": start, "answers": answers}, NOW)


def send(client: Client, path: str, content: bytes, **more: str) -> int:
    token = client.get(path.rpartition("/")[0]).form()["csrf_token"]
    sent = {"csrf_token": token, "photo": (BytesIO(content), "side.jpg"), **more}
    return int(client.http.post(path, data=sent, content_type="multipart/form-data").status_code)


def names(service: Service, identity: str) -> dict[str, int]:
    kept = find(service.engine, identity)
    assert kept is not None
    return {side: len(photos) for side, photos in kept.typed.get("photos", {}).items()}


def test_photographs_and_card_stand_on_the_papers(client: Client, service: Service, looked_at: str) -> None:
    path = f"/evaluations/{looked_at}/identity"
    plain = client.http.get(f"/evaluations/{looked_at}/report.pdf?for=condition").data
    assert "Which one it is" not in text_of(plain)
    for side, colour in (("view_front", "brown"), ("view_label", "white")):
        assert send(client, f"{path}/{side}", photo(colour)) == 302
    assert send(client, f"{path}/view_front", photo("red")) == 302
    assert names(service, looked_at) == {"view_front": 1, "view_label": 1}, "another takes its place"
    typed = {
        "name": "Red violin",
        "label": "Made in a town, 1911",
        "serial": "K 12",
        "maker": "A. Example, says a letter",
    }
    card = add_instrument(service.engine, None, typed, NOW)
    assert isinstance(card, str)
    page = client.get(f"/evaluations/{looked_at}/instrument?q=red")
    client.send(page, {}, action="/instrument/put")
    for reader in ("condition", "buyer", "shop"):
        paper = client.http.get(f"/evaluations/{looked_at}/report.pdf?for={reader}").data
        text = text_of(paper)
        for said in ("Which one it is", "Front", "Label", "Made in a town, 1911", "K 12", "A. Example, says a letter"):
            assert said in text, (reader, said)
        assert "Draft, answers may still change" in text and looked_at in text
        assert pictures_in(paper) == 2 and not faults(paper)
    assert "Made in a town" in client.get(path).text


def test_what_is_no_photo_and_no_side_is_told(client: Client, service: Service, looked_at: str) -> None:
    path = f"/evaluations/{looked_at}/identity"
    assert send(client, f"{path}/view_front", b"no photo") == 422
    assert send(client, f"{path}/view_top", photo("red")) == 404
    assert send(client, f"{path}/view_front", photo("red")) == 302
    assert send(client, f"{path}/view_front", b"", go="off") == 302
    assert names(service, looked_at) == {}


def test_a_photo_that_is_gone_leaves_the_rest(client: Client, service: Service, looked_at: str) -> None:
    path = f"/evaluations/{looked_at}/identity"
    assert send(client, f"{path}/view_back", photo("red")) == 302
    for kept in service.photos_folder.rglob("*.jpg"):
        kept.unlink()
    text = text_of(client.http.get(f"/evaluations/{looked_at}/report.pdf?for=condition").data)
    assert "Back" in text and "Part by part" in text
