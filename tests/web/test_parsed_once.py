"""What somebody typed is parsed once a version, however many pages ask for it; one bad answer costs no second parse."""

from collections import Counter
from collections.abc import Iterator

import pytest

from evaluator.assessment.observing import case
from evaluator.store.evaluations import create, find, save_look
from evaluator.web import service as service_module
from evaluator.web.service import Service
from tests.web.conftest import NOW, Client

START = {"size": "4/4", "tier": "student", "style": "classical"}


@pytest.fixture
def parsed(monkeypatch: pytest.MonkeyPatch) -> Iterator[Counter[str]]:
    """How often an answer to each check was parsed."""
    count: Counter[str] = Counter()
    real = case.read_observation

    def counted(rubric: object, check: str, *more: object) -> object:
        count[check] += 1
        return real(rubric, check, *more)

    for module in (case, service_module):
        monkeypatch.setattr(module, "read_observation", counted)
    yield count


def begun(service: Service, **answers: dict[str, str]) -> str:
    return create(service.engine, "violin", {"start": START, "answers": answers}, NOW)


def test_an_answer_of_a_phone_is_parsed_once_from_the_door_to_the_result(
    client: Client, service: Service, parsed: Counter[str]
) -> None:
    identity = begun(service)
    token = client.token()
    sent = {"sent": [{"check": "string_length", "answer": {"reading": "328", "unit": "mm"}}]}
    answer = client.http.post(f"/evaluations/{identity}/looks/answers", json=sent, headers={"X-CSRFToken": token})
    assert answer.get_json()["told"] == [{"check": "string_length", "problem": "", "beside": False}]
    for page in ("result", "parts/strings", "result"):
        client.get(f"/evaluations/{identity}/{page}")
    assert parsed == {"string_length": 1}


def test_an_answer_that_cannot_be_read_does_not_have_the_others_parsed_again(
    service: Service, parsed: Counter[str]
) -> None:
    identity = begun(service, purfling={"outcome": "inlaid"}, string_length={"reading": "long"})
    kept = find(service.engine, identity)
    assert kept is not None
    read = service.read(kept)
    assert list(read.wrong) == ["string_length"] and list(read.case.observations) == ["purfling"]
    assert parsed == {"purfling": 1, "string_length": 1}


def test_a_second_answer_that_cannot_be_read_takes_nothing_from_the_first(service: Service) -> None:
    identity = begun(service, string_length={"reading": "328"})
    save_look(service.engine, identity, 1, "string_length", {"reading": "long"}, NOW, "guest Eve")
    kept = find(service.engine, identity)
    assert kept is not None and kept.typed["beside"]["string_length"]
    read = service.read(kept)
    assert not read.wrong
    assert [one.reading.value for one in read.case.observations["string_length"] if one.reading] == [328.0]
