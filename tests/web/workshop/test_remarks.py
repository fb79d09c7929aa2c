"""A question on a line of a quote, answered on the same page; the board tells that one waits."""

import pytest

from evaluator.store.workshop.texts import remarks_of, waiting
from evaluator.web.service import Service
from tests.web.conftest import Client
from tests.web.quoting.steps import kept_of


def job_of(service: Service, quote: str) -> str:
    return next(line.job for line in kept_of(service, quote).quote.lines if not line.shared)


def test_asked_and_answered_on_the_same_page(client: Client, service: Service, quote: str, path: str) -> None:
    job = job_of(service, quote)
    page = client.get(path)
    asked = client.send(page, {f"a-{job}": "later", f"r-{job}": "Must it be now?", "go": f"remark:{job}"})
    assert "Must it be now?" in asked.text
    assert asked.form()[f"a-{job}"] == "later", "what was answered so far stays"
    assert waiting(service.engine) == {quote}
    assert "A question waits." in client.get("/board").text
    ours = client.send(client.get(f"/quotes/{quote}"), {"text": "It can wait a year."}, action="/remarks")
    assert "It can wait a year." in ours.text
    assert "The workshop: It can wait a year." in client.get(path).text
    assert waiting(service.engine) == frozenset()
    assert [one.ours for one in remarks_of(service.engine, quote)[job]] == [False, True]


@pytest.mark.parametrize(("text", "told"), [("  ", "othing is written"), ("x" * 3000, "")])
def test_nothing_is_told_and_too_much_is_cut(
    client: Client, service: Service, quote: str, path: str, text: str, told: str
) -> None:
    job = job_of(service, quote)
    page = client.send(client.get(path), {f"r-{job}": text, "go": f"remark:{job}"}, 422 if told else 200)
    assert told in page.text
    found = remarks_of(service.engine, quote).get(job, ())
    assert [len(one.text) for one in found] == ([] if told else [1000])


def test_what_is_typed_is_never_markup(client: Client, service: Service, quote: str, path: str) -> None:
    job = job_of(service, quote)
    page = client.send(client.get(path), {f"r-{job}": "<b>bold</b>", "go": f"remark:{job}"})
    assert "&lt;b&gt;bold&lt;/b&gt;" in page.source
