"""A student and her teacher look at the same thing: neither sees the other's answer first, neither loses her own, and
the result says where they agree and where not.
"""

from typing import Any

import pytest

from evaluator.store.evaluations import find, save_look, save_plan
from evaluator.store.guests import make_link
from evaluator.web.people.house import LOCAL, House
from evaluator.web.service import Service
from evaluator.wording.looks import differing, together_lines
from tests.web.conftest import NOW, Built, Client

LOOKS = ("purfling", "play_feel", "fingerboard_end")


@pytest.fixture
def teacher(service: Service, built: Built, draft: str) -> Client:
    """Her browser, behind the door, her name said."""
    token = make_link(service.engine, draft, LOOKS, "Her teacher", NOW)
    service.house = House(open_=False, hosts=LOCAL, address="http://localhost", reachable=True)
    client = Client(built.around(service))
    page = client.get(f"/g/{token}")
    client.post(f"/g/{token}/name", {**page.form(), "name": "Clara"})
    client.link = f"/g/{token}"  # type: ignore[attr-defined]
    return client


def ada(service: Service, draft: str, check: str, outcome: str) -> None:
    kept = find(service.engine, draft)
    assert kept is not None
    save_look(service.engine, draft, kept.version, check, {"outcome": outcome, "by": "Ada"}, NOW, "phone")


def clara(teacher: Client, check: str, outcome: str) -> Any:
    link: str = teacher.link  # type: ignore[attr-defined]
    token = teacher.get(link).form()["csrf_token"]
    return teacher.post(link, {"csrf_token": token, "check": check, f"q-{check}": outcome})


def typed(service: Service, draft: str) -> dict[str, Any]:
    kept = find(service.engine, draft)
    assert kept is not None
    return dict(kept.typed)


def told(service: Service, draft: str) -> tuple[str, ...]:
    kept = find(service.engine, draft)
    assert kept is not None
    return together_lines(service.result(kept))


def chance(service: Service, draft: str, check: str, outcome: str) -> float:
    kept = find(service.engine, draft)
    assert kept is not None
    belief = next(one for one in service.result(kept).checks if one.check == check).belief
    return next(one.probability for one in belief if one.outcome == outcome)


def test_she_does_not_see_what_was_answered_before(teacher: Client, service: Service, draft: str) -> None:
    ada(service, draft, "purfling", "painted")
    page = teacher.get(f"{teacher.link}?at=purfling")  # type: ignore[attr-defined]
    assert [b for b in page.tree.find("button") if b.attributes.get("aria-pressed") == "true"] == []
    clara(teacher, "purfling", "inlaid")
    page = teacher.get(f"{teacher.link}?at=purfling")  # type: ignore[attr-defined]
    pressed = [b.attributes["value"] for b in page.tree.find("button") if b.attributes.get("aria-pressed") == "true"]
    assert pressed == ["inlaid"]


def test_neither_replaces_the_other_whoever_comes_first(teacher: Client, service: Service, draft: str) -> None:
    ada(service, draft, "purfling", "painted")
    clara(teacher, "purfling", "inlaid")
    clara(teacher, "fingerboard_end", "blunt")
    ada(service, draft, "fingerboard_end", "sharp")
    kept = typed(service, draft)
    assert kept["answers"]["purfling"]["by"] == "Ada"
    assert kept["answers"]["fingerboard_end"]["by"] == "Clara"
    assert [one["by"] for one in kept["beside"]["purfling"].values()] == ["Clara"]
    assert [one["by"] for one in kept["beside"]["fingerboard_end"].values()] == ["Ada"]


def test_what_she_can_tell_stands_before_what_a_student_could_not(
    teacher: Client, service: Service, draft: str
) -> None:
    ada(service, draft, "purfling", "cannot_tell")
    clara(teacher, "purfling", "inlaid")
    clara(teacher, "purfling", "painted")
    kept = typed(service, draft)
    assert kept["answers"]["purfling"]["by"] == "Clara"
    assert kept["answers"]["purfling"]["outcome"] != "inlaid", "she may change her mind"
    assert [one["outcome"] for one in kept["beside"]["purfling"].values()] == ["cannot_tell"]
    assert told(service, draft) == ()


def test_two_who_agree_are_surer_than_one(teacher: Client, service: Service, draft: str) -> None:
    ada(service, draft, "purfling", "painted")
    alone = chance(service, draft, "purfling", "painted")
    clara(teacher, "purfling", "painted")
    assert chance(service, draft, "purfling", "painted") > alone
    (line,) = told(service, draft)
    assert line.startswith("Purfling: Ada and Clara say the same, painted, the grain runs through")


def test_two_who_differ_are_told_and_both_count(client: Client, teacher: Client, service: Service, draft: str) -> None:
    ada(service, draft, "purfling", "painted")
    alone = chance(service, draft, "purfling", "painted")
    clara(teacher, "purfling", "inlaid")
    assert 0.2 < chance(service, draft, "purfling", "painted") < alone
    (line,) = told(service, draft)
    assert "Ada says painted, the grain runs through" in line
    assert "Clara says laid in, the grain stops there" in line
    kept = find(service.engine, draft)
    assert kept is not None
    assert differing(service.result(kept)) == 1
    service.house = House()
    assert "1 look answered by two, 1 differing" in client.get(f"/evaluations/{draft}/result").text
    assert "They differ: both count" in client.get(f"/evaluations/{draft}/result/together").text


def test_a_held_look_says_so_before_and_after(client: Client, teacher: Client, service: Service, draft: str) -> None:
    ada(service, draft, "bridge_stance", "down")
    page = teacher.get(f"{teacher.link}?at=play_feel")  # type: ignore[attr-defined]
    assert "Wait with this. First put right: perpendicular bridge" in page.text
    assert "counts for now; it is asked again after that" in page.text
    outcome = next(iter(service.rubric("violin").checks["play_feel"].outcomes))
    page = clara(teacher, "play_feel", outcome)
    assert "It counts for now, and is asked again later." in page.text
    service.house = House()
    assert "First put right: perpendicular bridge" in client.get(f"/evaluations/{draft}/guests").text


def test_a_phone_is_told_at_once_what_has_to_wait(client: Client, service: Service, draft: str) -> None:
    """The page of looks was made before the bridge was found down: the reply to that answer tells it."""
    save_plan(service.engine, draft, {"looks": ["bridge_stance", "play_feel"], "channel": "in_person"})
    sent = [{"check": "bridge_stance", "answer": {"outcome": "down"}, "version": 1}]
    reply = client.http.post(
        f"/evaluations/{draft}/looks/answers",
        json={"writer": "phone", "sent": sent},
        headers={"X-CSRFToken": client.token()},
    )
    assert "First put right" in reply.get_json()["waits"]["play_feel"]
