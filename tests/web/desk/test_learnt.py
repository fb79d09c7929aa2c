"""What own records teach, on a page: looks against the bench's, and months to sell; nothing counts by itself."""

from evaluator.result.json_form import result_json
from evaluator.store.evaluations import create, find, finish, save_answers
from evaluator.web.service import Service
from tests.web.conftest import NOW, Client

START = {"title": "Red violin", "size": "4/4", "style": "classical", "tier": "student"}
LATER = "2026-05-04T05:06:07+00:00"


def finished(service: Service, start: dict[str, str], answers: dict[str, str], made_from: str | None = None) -> str:
    """A finished look whose answers were given one by one, as on a page."""
    identity = create(service.engine, "violin", {"start": start, "answers": {}}, NOW, made_from=made_from)
    given = {name: {"outcome": outcome} for name, outcome in answers.items()}
    save_answers(service.engine, identity, 1, given, LATER, "a page")
    kept = find(service.engine, identity)
    assert kept is not None
    finish(service.engine, identity, kept.version, result_json(service.result(kept)), "hash", LATER)
    return identity


def test_a_students_looks_are_held_to_the_benchs(client: Client, service: Service) -> None:
    empty = client.get("/learnt").text
    assert "Nothing was looked at again at the bench yet." in empty
    told = {"purfling": "inlaid", "bridge_warp": "bent", "fingerboard_wear": "felt"}
    first = finished(service, {**START, "looker": "student"}, told)
    again = {**START, "looker": "luthier"}
    finished(service, again, {"purfling": "painted", "bridge_warp": "bent"}, first)
    page = client.get("/learnt")
    assert "A student in the hand" in page.text
    assert "1 of 2" in page.text
    assert "purfling: {seen_by: {in_person: 0." in page.source
    before = service.rubric("violin").checks["purfling"].seen_by
    shown = client.send(page, {"go": "check"}, action="/opinions")
    assert "purfling" in shown.text
    assert service.rubric("violin").checks["purfling"].seen_by == before, "looking switches nothing on"


def test_what_was_taken_over_is_no_second_look(client: Client, service: Service) -> None:
    first = finished(service, {**START, "looker": "student"}, {"purfling": "inlaid"})
    typed = {"start": {**START, "looker": "luthier"}, "answers": {"purfling": {"outcome": "inlaid"}}}
    identity = create(service.engine, "violin", typed, NOW, made_from=first)
    kept = find(service.engine, identity)
    assert kept is not None
    finish(service.engine, identity, kept.version, result_json(service.result(kept)), "hash", LATER)
    assert "Nothing was looked at again at the bench yet." in client.get("/learnt").text
