"""What own records teach, on a page: looks against the bench's, and months to sell; nothing counts by itself."""

import re

from evaluator.result.json_form import result_json
from evaluator.store.evaluations import create, find, finish, save_answers
from evaluator.web.service import Service
from tests.web.conftest import NOW, Client
from tests.web.desk.test_offers import offered

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


def test_what_sold_moves_the_mean_between_the_guide_and_the_own_sale(client: Client, service: Service) -> None:
    """Taken in on 4 March, sold a month and a half later; all three figures are means, so the third lies between."""
    item = client.send(offered(client, service), {"way": "cash"}, action="/accept")
    service.now = lambda: "2026-04-20T08:00:00+00:00"
    client.send(
        client.send(item, {"price": "1500"}, action="/price"),
        {"sold_for": "1400", "sold_on": "19 April 2026"},
        action="/sold",
    )
    page = client.get("/learnt")
    (row,) = [one for one in page.tree.find("tr") if "1 sold" in one.text]
    assert re.search(r"1 sold in 1.5 on the mean ?, 0 here; own sales count for 17 of 100", row.text)
    guide, own, blend = (float(re.split(r"[ –]", one.text)[0]) for one in row.find("td")[1:])
    assert min(guide, own) <= blend <= max(guide, own)
