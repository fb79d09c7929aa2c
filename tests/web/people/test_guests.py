"""A teacher with a private link: her name once, the named looks and nothing else, and an end."""

import pytest

from evaluator.basis import show
from evaluator.store.evaluations import find, save_look
from evaluator.store.guests import find_link, links_of, make_link
from evaluator.web.looking.plan import PHOTO_LOOK_MINUTES, minutes_of_looks
from evaluator.web.people.doors import limiter
from evaluator.web.people.guests import looks_for
from evaluator.web.people.house import LOCAL, House
from evaluator.web.service import Service, case_of
from tests.web.conftest import NOW, Built, Client

LOOKS = ("play_feel", "purfling")


@pytest.fixture
def link(service: Service, draft: str) -> str:
    return make_link(service.engine, draft, LOOKS, "Her teacher", NOW)


@pytest.fixture
def teacher(service: Service, built: Built) -> Client:
    """A browser that is not signed in, in a house with doors."""
    service.house = House(open_=False, hosts=LOCAL, address="http://localhost", reachable=True)
    return Client(built.around(service))


def named(teacher: Client, link: str, name: str = "Clara") -> str:
    page = teacher.get(f"/g/{link}")
    token = page.form()["csrf_token"]
    assert teacher.post(f"/g/{link}/name", {"csrf_token": token, "name": name}).path == f"/g/{link}"
    return token


def test_her_name_is_asked_once_and_stands_beside_her_answers(
    teacher: Client, service: Service, draft: str, link: str
) -> None:
    token = named(teacher, link)
    page = teacher.get(f"/g/{link}")
    assert page.heading == "Look 1 of 2"
    outcome = next(iter(service.rubric("violin").checks["play_feel"].outcomes))
    teacher.post(f"/g/{link}", {"csrf_token": token, "check": "play_feel", "q-play_feel": outcome})
    kept = find(service.engine, draft)
    assert kept is not None
    assert kept.typed["answers"]["play_feel"]["by"] == "Clara"


def test_no_name_no_looks(teacher: Client, link: str) -> None:
    token = teacher.get(f"/g/{link}").form()["csrf_token"]
    page = teacher.post(f"/g/{link}/name", {"csrf_token": token, "name": "  "}, 422)
    assert "Enter your name" in page.text


def test_only_the_named_looks_are_taken(teacher: Client, service: Service, draft: str, link: str) -> None:
    token = named(teacher, link)
    teacher.post(f"/g/{link}", {"csrf_token": token, "check": "fingerboard_end", "q-fingerboard_end": "blunt"})
    sent = [{"check": "fingerboard_end", "answer": {"outcome": "blunt"}, "version": 1}]
    reply = teacher.http.post(f"/g/{link}/answers", json={"sent": sent}, headers={"X-CSRFToken": token})
    assert reply.get_json()["told"] == []
    kept = find(service.engine, draft)
    assert kept is not None
    assert kept.typed["answers"] == {}


def test_what_two_people_say_of_one_look_is_kept_side_by_side(
    teacher: Client, service: Service, draft: str, link: str
) -> None:
    save_look(service.engine, draft, 1, "purfling", {"outcome": "painted", "by": "Ada"}, NOW, "phone")
    token = named(teacher, link)
    sent = [{"check": "purfling", "answer": {"outcome": "inlaid"}, "version": 1}]
    teacher.http.post(f"/g/{link}/answers", json={"sent": sent}, headers={"X-CSRFToken": token})
    kept = find(service.engine, draft)
    assert kept is not None
    case, _ = case_of(service.rubric("violin"), kept.typed)
    assert [(seen.by, seen.outcome) for seen in case.observations["purfling"]] == [
        ("Ada", "painted"), ("Clara", "inlaid"),
    ]  # fmt: skip


def test_a_link_ends_and_can_be_withdrawn(
    teacher: Client, client: Client, service: Service, draft: str, link: str
) -> None:
    named(teacher, link)
    service.now = lambda: "2026-03-19T00:00:00+00:00"
    assert teacher.get(f"/g/{link}", 410).heading == "This link has ended"
    service.now = lambda: NOW
    service.house = House()
    page = client.get(f"/evaluations/{draft}/guests")
    assert "Her teacher" in page.text
    (kept,) = links_of(service.engine, draft)
    token = page.form()["csrf_token"]
    client.post(f"/evaluations/{draft}/guests/{kept.token_hash}/withdraw", {"csrf_token": token})
    assert find_link(service.engine, link).withdrawn == NOW  # type: ignore[union-attr]
    service.house = House(open_=False, hosts=LOCAL, address="http://localhost", reachable=True)
    assert teacher.get(f"/g/{link}", 410).heading == "This link has ended"


def test_guesses_of_a_link_are_slowed(teacher: Client) -> None:
    limiter.reset()
    seen = [teacher.http.get(f"/g/guess-{number}").status_code for number in range(25)]
    assert seen[:20] == [404] * 20
    assert seen[-1] == 429
    limiter.reset()


def test_a_link_is_made_with_its_qr_code_and_says_where_it_can_be_opened(client: Client, draft: str) -> None:
    page = client.get(f"/evaluations/{draft}/guests")
    sent = {"csrf_token": page.form()["csrf_token"], "label": "Her teacher", "kind": "play"}
    page = client.post(f"/evaluations/{draft}/guests", sent)
    assert "http://localhost/g/" in str([f.attributes.get("value") for f in page.tree.find("input")])
    assert "opens on this computer only" in page.text
    assert "nothing left here" in client.post(f"/evaluations/{draft}/guests", {**sent, "kind": "moon"}, 422).text


def test_a_play_test_takes_a_teacher_ten_to_fifteen_minutes(teacher: Client, service: Service, draft: str) -> None:
    """What is heard in one playing is played once; three instruments on two days are no part of a lesson."""
    rubric, kept = service.rubric("violin"), find(service.engine, draft)
    assert kept is not None
    asked = looks_for(rubric, kept, "play")
    assert {"play_feel", "buzz_rattle", "evenness_across_strings", "wolf_notes"} <= set(asked)
    assert "tone_preference" not in asked
    minutes = minutes_of_looks([rubric.checks[name] for name in asked], "in_person")
    assert 10 <= sum(minutes.values()) <= 15
    assert minutes["play_feel"] == 10
    page = teacher.get(f"/g/{make_link(service.engine, draft, asked, 'Her teacher', NOW)}")
    assert f"about {show.minutes(sum(minutes.values()))} for all, ten of them playing" in page.text


def test_a_look_that_is_heard_alone_takes_its_own_time(service: Service) -> None:
    checks = service.rubric("violin").checks
    assert minutes_of_looks([checks["buzz_rattle"]], "in_person") == {"buzz_rattle": checks["buzz_rattle"].minutes}
    photos = minutes_of_looks([checks["play_feel"], checks["purfling"]], "photos")
    assert set(photos.values()) == {PHOTO_LOOK_MINUTES}


def test_a_guest_is_led_to_no_page_of_the_house(teacher: Client, link: str) -> None:
    named(teacher, link)
    page = teacher.get(f"/g/{link}")
    leads = {a.attributes["href"] for a in page.tree.find("a") if "href" in a.attributes}
    assert {one for one in leads if not one.startswith("/words#")} <= {"#main"}, leads
    assert teacher.get("/words").heading
