"""A visit, one look a screen, as a browser without JavaScript takes it; and what a phone sends when the net is back."""

import gzip
import json
from typing import Any

import pytest

from evaluator.result.evaluation import MOST_PHOTO_LOOKS
from evaluator.store.evaluations import create, find, save_plan
from evaluator.web.looking.plan import THINGS, more
from evaluator.web.service import Service, case_of
from tests.web.conftest import NOW, Client
from tests.web.page import Page

START = {"title": "Red violin", "size": "4/4", "style": "classical", "tier": "student", "looker": "student"}
MOST_PAGE = 100_000  # bytes, without photos
MOST_TOLD = 35_000  # packed; fetched once, behind the looks
PLAN = ("fingerboard_end", "bridge_stance", "bridge_fitted_feet", "purfling")


def typed_of(service: Service, identity: str) -> dict[str, Any]:
    kept = find(service.engine, identity)
    assert kept is not None
    return dict(kept.typed)


def answers_of(service: Service, identity: str) -> dict[str, Any]:
    return {name: {k: v for k, v in one.items() if k != "seen_by"} for name, one in
            typed_of(service, identity)["answers"].items()}  # fmt: skip


@pytest.fixture
def visit(service: Service) -> str:
    """A student's violin with four looks before her."""
    identity = create(service.engine, "violin", {"start": START, "answers": {}}, NOW)
    save_plan(service.engine, identity, {"looks": list(PLAN), "channel": "in_person"})
    return identity


def looks(client: Client, identity: str, at: str = "") -> Page:
    return client.get(f"/evaluations/{identity}/looks" + (f"?at={at}" if at else ""))


def tap(client: Client, page: Page, identity: str, check: str, **typed: str) -> Page:
    """Press one answer of the look that is shown."""
    token = client.token()
    return client.post(f"/evaluations/{identity}/looks", {"csrf_token": token, "check": check, **typed})


def asked(page: Page) -> list[str]:
    return [one.attributes["data-look"] for one in page.tree.find("section") if one.attributes.get("data-look")]


def here(page: Page) -> str:
    visible = [one for one in page.tree.find("section") if "data-look" in one.attributes]
    return next(one.attributes["data-look"] for one in visible if "hidden" not in one.attributes)


def test_begin_leads_to_the_first_look_and_the_list_stays_the_same(client: Client, service: Service) -> None:
    page = client.send(client.get("/new/violin"), {"asking": "780", "go": "looks"})
    identity, first = page.path.split("/")[2], asked(page)
    assert len(first) > 5
    assert here(page) == first[0]
    check = service.rubric("violin").checks[first[0]]
    assert (check.kind, check.who) == ("choice", "student"), "anybody can do the first"
    tap(client, page, identity, first[0], **{f"q-{first[0]}": next(iter(check.outcomes))})
    again = looks(client, identity)
    assert asked(again) == first
    assert here(again) == first[1]


def test_only_what_the_tools_at_hand_can_measure_is_asked(client: Client, service: Service) -> None:
    rubric = service.rubric("violin")
    for tools in ([], ["rule", "scale"]):
        page = client.send(client.get("/new/violin"), {"minutes": "30", "tools": tools, "go": "looks"})
        at_hand = set().union(*(THINGS[name][1] for name in tools))
        measured = [rubric.checks[name].measure for name in asked(page) if rubric.checks[name].measure]
        assert all(at_hand & set(one.tools) for one in measured if one)
        assert bool(measured) == bool(tools)


def test_without_a_limit_the_usual_look_is_asked_and_the_rest_after_it(client: Client, service: Service) -> None:
    rubric = service.rubric("bow")
    page = client.send(client.get("/new/bow"), {"minutes": "all", "looker": "luthier", "go": "looks"})
    identity = page.path.split("/")[2]
    assert set(asked(page)) == {one.check for one in rubric.checks.values() if one.usual}
    kept = find(service.engine, identity)
    assert kept is not None
    with client.app.app_context():
        further = more(kept).looks
    assert further[: len(asked(page))] == tuple(asked(page))
    assert len(further) > len(asked(page))


@pytest.mark.parametrize("family", ["violin", "viola", "cello", "bow"])
def test_the_longest_visit_is_light(client: Client, service: Service, family: str) -> None:
    """A luthier's, with every tool: all looks in one page, before the first answer and with all but one answered."""
    said = {"minutes": "all", "looker": "luthier", "tools": list(THINGS), "go": "looks"}
    page = client.send(client.get(f"/new/{family}"), said)
    assert len(asked(page)) > 20
    assert len(page.source.encode()) < MOST_PAGE
    typed, checks = typed_of(service, page.path.split("/")[2]), service.rubric(family).checks
    last = {name: {"outcome": list(checks[name].outcomes)[-1]} for name in asked(page)[:-1]}
    answered = create(service.engine, family, {**typed, "answers": last}, NOW)
    assert len(looks(client, answered).source.encode()) < MOST_PAGE
    with client.http.get(f"{page.path}/told.json", headers={"Accept-Encoding": "gzip"}) as response:
        assert len(response.data) < MOST_TOLD
        told = json.loads(gzip.decompress(response.data))["looks"]
    assert set(told) == set(asked(page))
    assert all("<li>" in html or "<dd>" in html or "<p" in html for html in told.values())


def test_photographs_are_gone_through_in_a_few_looks_that_say_which_to_open(client: Client, service: Service) -> None:
    page = client.send(client.get("/new/violin"), {"seen_by": "photos", "minutes": "3", "go": "looks"})
    identity = page.path.split("/")[2]
    assert 6 <= len(asked(page)) <= MOST_PHOTO_LOOKS
    assert page.text.count("Open:") == len(asked(page))
    assert "Caution" not in page.text, "nobody touches anything"
    assert "about 3 minutes" in page.text
    rubric = service.rubric("violin")
    assert not set(asked(page)) <= set(rubric.safety_checks), "what nobody tunes need not be safe first"
    name = here(page)
    tap(client, page, identity, name, **{f"q-{name}": next(iter(service.rubric("violin").checks[name].outcomes))})
    assert typed_of(service, identity)["answers"][name]["seen_by"] == "photos"


def test_one_tap_answers_and_moves_on_and_undo_takes_it_back(client: Client, service: Service, visit: str) -> None:
    page = tap(client, looks(client, visit), visit, "fingerboard_end", **{"q-fingerboard_end": "blunt"})
    assert here(page) == "bridge_stance"
    assert "Kept: " in page.text
    page = tap(client, page, visit, "fingerboard_end", go="undo")
    assert here(page) == "fingerboard_end"
    assert answers_of(service, visit) == {}


def test_a_mark_is_one_tap(client: Client, service: Service) -> None:
    identity = create(service.engine, "violin", {"start": START, "answers": {}}, NOW)
    save_plan(service.engine, identity, {"looks": ["scroll_carving", "purfling"], "channel": "in_person"})
    page = looks(client, identity)
    rate = service.rubric("violin").checks["scroll_carving"].rate
    marks = [
        one.attributes["value"] for one in page.tree.find("button") if one.attributes.get("name") == "r-scroll_carving"
    ]
    assert rate is not None
    assert marks == [str(mark) for mark in range(rate.lowest, rate.highest + 1)]
    page = tap(client, page, identity, "scroll_carving", **{"r-scroll_carving": "4"})
    assert here(page) == "purfling"
    assert answers_of(service, identity)["scroll_carving"]["reading"] == "4"


def test_later_goes_round_and_cannot_tell_is_offered_again_at_the_end(client: Client, visit: str) -> None:
    page = tap(client, looks(client, visit), visit, "fingerboard_end", go="later")
    for name, value in (("bridge_stance", "upright"), ("bridge_fitted_feet", "cannot_tell"), ("purfling", "inlaid")):
        assert here(page) == name
        page = tap(client, page, visit, name, **{f"q-{name}": value})
    assert here(page) == "fingerboard_end"
    page = tap(client, page, visit, "fingerboard_end", **{"q-fingerboard_end": "blunt"})
    assert here(page) == ""
    again = [a.attributes.get("data-at") for a in page.tree.find("a") if "data-at" in a.attributes]
    assert again == ["bridge_fitted_feet"]


def test_what_does_not_apply_as_answered_is_not_asked(client: Client, visit: str) -> None:
    page = tap(client, looks(client, visit), visit, "bridge_stance", **{"q-bridge_stance": "down"})
    assert "bridge_fitted_feet" not in asked(page)


def test_a_reading_shows_its_standard_only_after_it_is_in(client: Client, service: Service, visit: str) -> None:
    save_plan(service.engine, visit, {"looks": ["body_length", "purfling"], "channel": "in_person"})
    page = looks(client, visit)
    assert "The standard is" not in page.text
    token = client.token()
    sent = {"csrf_token": token, "check": "body_length", "r-body_length": "three hands"}
    page = client.post(f"/evaluations/{visit}/looks", sent, 422)
    assert any(field.attributes.get("value") == "three hands" for field in page.tree.find("input"))
    page = tap(client, page, visit, "body_length", **{"r-body_length": "355,5", "u-body_length": "mm"})
    assert "The standard is 35" in page.text


def test_the_front_page_leads_back_to_my_place(client: Client, visit: str) -> None:
    tap(client, looks(client, visit), visit, "fingerboard_end", **{"q-fingerboard_end": "blunt"})
    front = client.get("/")
    assert "Go on: look 2 of 4, about " in front.text
    assert client.get(f"/evaluations/{visit}").path.endswith("/looks")


def test_of_two_visits_in_progress_both_are_one_tap_away_the_newest_first(
    client: Client, service: Service, visit: str
) -> None:
    """Two violins in two shops; one whose looks are all done is none to go on with, and hides no other."""
    typed = {"start": START | {"title": "The other shop's"}, "answers": {}}
    other = create(service.engine, "violin", typed, "2026-03-04T06:00:00+00:00")
    done = create(service.engine, "violin", typed, "2026-03-04T07:00:00+00:00")
    save_plan(service.engine, other, {"looks": ["purfling", "bridge_stance"], "channel": "in_person"})
    save_plan(service.engine, done, {"looks": [], "channel": "in_person"})
    front = client.get("/")
    said = [(a.attributes["href"], a.text) for a in front.tree.find("a") if a.text.startswith(("Go on", "Or "))]
    assert [href for href, _ in said] == [f"/evaluations/{other}/looks", f"/evaluations/{visit}/looks"]
    assert said[0][1].startswith("Go on: look 1 of 2, about ")
    assert said[1][1].startswith("Or ")


def test_a_few_more_looks_come_behind_those_that_were(client: Client, visit: str) -> None:
    token = client.token()
    page = client.post(f"/evaluations/{visit}/looks", {"csrf_token": token, "go": "more"})
    assert asked(page)[: len(PLAN)] == list(PLAN)
    assert len(asked(page)) > len(PLAN)


def test_a_result_without_an_answer_yet_leads_to_the_looks_that_tell_most(client: Client, service: Service) -> None:
    """In one tap from the first screen: those that could turn the advice, of what can be done with nothing at hand."""
    start = START | {"asking": "900", "currency": "USD"}
    sound = {"purfling": "inlaid", "fingerboard_material": "ebony", "fhole_workmanship": "fine"}
    sound |= {"purfling_corners": "tidy", "plate_solid_or_laminate": "both_solid", "soundpost_standing": "standing"}
    identity = create(
        service.engine,
        "violin",
        {"start": start, "answers": {name: {"outcome": one} for name, one in sound.items()}},
        NOW,
    )
    save_plan(service.engine, identity, {"looks": ["purfling"], "channel": "in_person"})
    page = client.get(f"/evaluations/{identity}/result")
    assert "Look first" in page.heading
    assert "What tells most now: " in page.text
    further = asked(client.send(page, {"go": "more"}, action=f"/evaluations/{identity}/looks"))
    kept = find(service.engine, identity)
    assert kept is not None
    with client.app.app_context():
        turning = [one.check for one in service.evaluation(kept).verdict.could_change]
    rubric = service.rubric("violin")
    assert further[1:] == [name for name in turning if rubric.checks[name].measure is None]
    assert further[1:]


def send(client: Client, identity: str, *sent: dict[str, Any], writer: str = "phone-a") -> tuple[int, dict[str, Any]]:
    token = client.token()
    reply = client.http.post(
        f"/evaluations/{identity}/looks/answers",
        json={"writer": writer, "sent": list(sent)},
        headers={"X-CSRFToken": token},
    )
    return reply.status_code, reply.get_json()


def one(check: str, outcome: str, version: int = 1, **more: str) -> dict[str, Any]:
    return {"check": check, "answer": {"outcome": outcome, **more}, "version": version}


def test_what_waited_for_the_net_is_kept_with_its_giver_and_time(client: Client, service: Service, visit: str) -> None:
    status, told = send(
        client, visit, one("purfling", "painted", by="Ada", at="2026-03-04T05:00:00Z"), one("purfling", "inlaid"),
        one("fingerboard_end", "blunt"),
    )  # fmt: skip
    assert status == 200
    assert [line["problem"] for line in told["told"]] == ["", "", ""]
    assert answers_of(service, visit) == {"purfling": {"outcome": "inlaid"}, "fingerboard_end": {"outcome": "blunt"}}
    send(client, visit, one("bridge_stance", "upright", by="Ada", at="2026-03-04T05:00:00Z"))
    case, _ = case_of(service.rubric("violin"), typed_of(service, visit))
    seen = case.observations["bridge_stance"][0]
    assert (seen.by, seen.at) == ("Ada", "2026-03-04T05:00:00Z")


def test_sent_twice_is_kept_once(client: Client, service: Service, visit: str) -> None:
    for _ in range(2):
        assert send(client, visit, one("purfling", "painted"))[0] == 200
    assert answers_of(service, visit) == {"purfling": {"outcome": "painted"}}


def test_two_phones_on_one_look_are_kept_beside_each_other(client: Client, service: Service, visit: str) -> None:
    send(client, visit, one("purfling", "painted"), writer="phone-a")
    _, told = send(client, visit, one("purfling", "inlaid", by="Ben"), writer="phone-b")
    assert told["told"][0]["beside"] is True
    case, _ = case_of(service.rubric("violin"), typed_of(service, visit))
    assert [seen.outcome for seen in case.observations["purfling"]] == ["painted", "inlaid"]
    send(client, visit, {"check": "purfling", "answer": {}, "version": 9}, writer="phone-b")
    assert typed_of(service, visit)["beside"] == {}
    assert answers_of(service, visit) == {"purfling": {"outcome": "painted"}}


@pytest.mark.parametrize(
    "body", [None, [], {"sent": "x"}, {"sent": [1]}, {"sent": [{"check": "purfling"}] * 500}, "x", {"writer": "a"}]
)
def test_what_is_no_list_of_answers_is_told(client: Client, visit: str, body: Any) -> None:
    reply = client.http.post(f"/evaluations/{visit}/looks/answers", json=body, headers={"X-CSRFToken": client.token()})
    assert reply.status_code == 400
    assert "could not be read" in reply.get_json()["say"]


def test_strange_answers_are_told_one_by_one_and_the_rest_is_kept(client: Client, service: Service, visit: str) -> None:
    _, told = send(client, visit, one("no_such", "x"), one("purfling", "no_such"), one("fingerboard_end", "blunt"))
    problems = [line["problem"] for line in told["told"]]
    assert problems[0] == "There is no such look any more."
    assert "not one of its answers" in problems[1]
    assert problems[2] == ""
    assert answers_of(service, visit)["fingerboard_end"] == {"outcome": "blunt"}


def test_what_comes_after_the_end_is_told(client: Client, visit: str) -> None:
    client.send(client.get(f"/evaluations/{visit}/result"), action="/finish")
    status, told = send(client, visit, one("purfling", "painted"))
    assert (status, told["say"]) == (409, "This evaluation is finished. Look again to change it.")
    assert looks(client, visit).path.endswith("/result")


def test_a_drawing_has_an_address_of_its_own(client: Client) -> None:
    reply = client.http.get("/drawings/purfling-0.svg")
    if reply.status_code == 404:
        pytest.fail("the drawing of the purfling is gone")
    assert reply.mimetype == "image/svg+xml"
    assert "max-age" in reply.headers["Cache-Control"]
    assert client.http.get("/drawings/purfling-9.svg").status_code == 404
    assert client.http.get("/drawings/nothing-0.svg").status_code == 404
