"""Everything out and in from the browser, and one evaluation as a file that comes back as it was."""

import io

from evaluator.store.evaluations import find, newest
from evaluator.web.service import Service
from tests.fleet.fleets import EXAMPLES, zipped
from tests.web.conftest import Client


def test_everything_goes_out_and_comes_in_once(client: Client, service: Service, draft: str) -> None:
    with client.http.get("/everything.zip") as saved:
        packed = saved.data
    fields = {"csrf_token": client.token(), "file": (io.BytesIO(packed), "all.zip")}
    assert "1 stood here already" in client.post("/everything", fields).text
    fields = {"csrf_token": client.token(), "file": (io.BytesIO(b"x"), "all.zip")}
    assert "is damaged" in client.post("/everything", fields, 422).text
    assert "No file was sent" in client.post("/everything", {"csrf_token": client.token()}, 422).text


def test_an_evaluation_is_saved_as_a_file_and_read_again(client: Client, service: Service) -> None:
    for content, name in ((zipped({"a.yaml": EXAMPLES[4].read_bytes()}), "a.zip"),):
        page = client.post("/fleet", {"csrf_token": client.token(), "file": (io.BytesIO(content), name)})
        service.fleets.wait()
        client.post(f"{page.path}/keep", {"csrf_token": client.token()})
    (first,) = newest(service.engine)
    with client.http.get(f"/evaluations/{first.id}/evaluation.yaml") as saved:
        text = saved.data
    page = client.post("/fleet", {"csrf_token": client.token(), "file": (io.BytesIO(text), "one.yaml")})
    service.fleets.wait()
    client.post(f"{page.path}/keep", {"csrf_token": client.token()})
    second = next(one for one in newest(service.engine) if one.id != first.id)
    both = [find(service.engine, one.id) for one in (first, second)]
    assert all(both)
    scores = [service.result(one).score for one in both if one is not None]
    assert scores[0] == scores[1]
