"""Photographs of what was found stand beside the line that cures it, on the customer's own page and nowhere else."""

from io import BytesIO

import pytest
from PIL import Image

from evaluator.result.json_form import result_json
from evaluator.store.evaluations import create, find, finish
from evaluator.store.photos import keep_photo
from evaluator.web.service import Service
from tests.web.conftest import NOW, Client
from tests.web.quoting.steps import link_of, made


def taken(service: Service, colour: str) -> str:
    """A kept photograph in one colour; its name."""
    written = BytesIO()
    Image.new("RGB", (60, 40), colour).save(written, "PNG")
    name = keep_photo(service.photos_folder, written.getvalue())
    assert isinstance(name, str)
    return name


@pytest.fixture
def names(service: Service) -> tuple[str, str]:
    """A photograph of a bridge, and one of another instrument."""
    return taken(service, "brown"), taken(service, "blue")


def test_a_photo_stands_beside_its_line(client: Client, service: Service, names: tuple[str, str]) -> None:
    mine, other = names
    answers = {"bridge_fitted_feet": {"outcome": "gaps"}, "bridge_warp": {"outcome": "bent"}}
    start = {"title": "Red violin", "size": "4/4", "style": "classical", "tier": "student", "purpose": "quote"}
    typed = {"start": start, "answers": answers, "photos": {"bridge_fitted_feet": [{"name": mine}]}}
    identity = create(service.engine, "violin", typed, NOW)
    kept = find(service.engine, identity)
    assert kept is not None
    finish(service.engine, identity, 1, result_json(service.result(kept)), "hash", NOW)
    path = link_of(client, made(client, identity))
    page = client.get(path)
    shown = [one.attributes["src"] for one in page.tree.find("img") if "/photos/" in one.attributes["src"]]
    assert shown == [f"{path}/photos/{mine}.jpg"]
    reply = client.http.get(shown[0])
    assert (reply.status_code, reply.mimetype) == (200, "image/jpeg")
    for wrong in (f"{path}/photos/{other}.jpg", f"/q/none/photos/{mine}.jpg", f"{path}/photos/nothing.jpg"):
        assert client.http.get(wrong).status_code == 404
