"""Who may see what: every role over every route, codes that open once, sessions that end, hosts that are not ours."""

from collections.abc import Iterator

import pytest
from flask import url_for

from evaluator.store.people import (
    add_person,
    begin_session,
    hashed,
    last_deeds,
    make_code,
    session_of,
    sessions_now,
    take_off,
    use_code,
    withdraw_session,
)
from evaluator.web.people.doors import BY_LINK, BY_TOKEN, FOR_ALL, NEEDS, NEEDS_ENDPOINT, RANK, limiter, may
from evaluator.web.people.house import LOCAL, House
from evaluator.web.people.sign_in import HASHER
from evaluator.web.service import Service
from tests.web.conftest import NOW, Built, Client

PASSWORD = "four plain words here"
ARGUMENTS = {
    "family": "violin", "name": "bridge", "filename": "app.css", "token": "none", "key": "0" * 12, "number": 0,
    "check": "purfling", "to": "decline", "quote": "0" * 12, "offer": "0" * 12, "section": "found", "part": "bridge",
    "side": "view_front",
}  # fmt: skip


@pytest.fixture
def closed(service: Service, built: Built) -> Iterator[Client]:
    """A service that others can reach, with an owner."""
    service.house = House(open_=False, hosts=LOCAL | {"192.168.1.5"}, address="http://192.168.1.5:8765", reachable=True)
    yield Client(built.around(service))
    limiter.reset()


def token(client: Client) -> str:
    return client.get("/sign-in").form()["csrf_token"]


def come_in(client: Client, service: Service, role: str) -> None:
    code = make_code(service.engine, role, NOW)
    page = client.post("/in", {"csrf_token": token(client), "code": code})
    assert page.path == "/"


def addresses(client: Client, identity: str, method: str) -> list[tuple[str, str]]:
    """(endpoint, address) of every route."""
    found = []
    for rule in client.app.url_map.iter_rules():
        if method in (rule.methods or set()):
            known = {**ARGUMENTS, "identity": identity}
            with client.app.test_request_context():
                found.append((rule.endpoint, url_for(rule.endpoint, **{name: known[name] for name in rule.arguments})))
    return found


def test_a_stranger_sees_nothing_but_the_door(closed: Client, draft: str) -> None:
    for method in ("GET", "POST"):
        for endpoint, path in addresses(closed, draft, method):
            if endpoint in FOR_ALL or endpoint.partition(".")[0] in BY_LINK | BY_TOKEN:
                continue
            with closed.http.open(path, method=method, headers={"Accept": "text/html"}) as reply:
                seen = (reply.status_code, reply.headers.get("Location", ""))
            assert seen[0] in {400, 403} or seen[1].startswith("/sign-in"), (method, path, seen)


@pytest.mark.parametrize("role", sorted(RANK))
def test_each_role_sees_what_is_named_for_it_and_no_more(
    closed: Client, service: Service, draft: str, role: str
) -> None:
    come_in(closed, service, role)
    for endpoint, path in addresses(closed, draft, "GET"):
        if endpoint in FOR_ALL or endpoint.partition(".")[0] in BY_LINK | BY_TOKEN:
            continue
        with closed.http.get(path, headers={"Accept": "text/html"}) as reply:
            assert (reply.status_code == 403) == (not may(role, endpoint)), (role, path, reply.status_code)


def test_every_subject_is_named_or_the_owners(closed: Client) -> None:
    endpoints = {rule.endpoint for rule in closed.app.url_map.iter_rules()} - FOR_ALL
    named = {one for one in endpoints if one.partition(".")[0] in NEEDS or one in NEEDS_ENDPOINT}
    rest = {one for one in endpoints - named if one.partition(".")[0] not in BY_LINK | BY_TOKEN}
    assert {one.partition(".")[0] for one in rest} == {"team", "programs", "records"}
    assert not may("luthier", "a_new_page.index")


def test_a_code_opens_once_and_not_after_twenty_minutes(service: Service) -> None:
    code = make_code(service.engine, "phone", NOW)
    assert use_code(service.engine, code.lower().replace("-", " "), NOW) == "phone"
    assert use_code(service.engine, code, NOW) is None
    late = make_code(service.engine, "phone", NOW)
    assert use_code(service.engine, late, NOW.replace("05:06", "05:27")) is None
    assert use_code(service.engine, "AAAA-AAAA", NOW) is None


def test_only_looking_at_the_link_of_a_code_does_not_use_it(closed: Client, service: Service) -> None:
    code = make_code(service.engine, "phone", NOW)
    for _ in range(3):
        closed.get(f"/in?code={code}")
    assert closed.post("/in", {"csrf_token": token(closed), "code": code}).path == "/"


def test_five_wrong_codes_and_the_door_waits(closed: Client) -> None:
    sent = {"csrf_token": token(closed), "code": "AAAA-AAAA"}
    for _ in range(5):
        assert "does not open" in closed.post("/in", sent, 422).text
    assert closed.post("/in", sent, 429).heading == "Those were many tries"


def test_a_person_signs_in_and_out_and_a_wrong_password_is_told(closed: Client, service: Service) -> None:
    add_person(service.engine, "Ada", "luthier", HASHER.hash(PASSWORD), NOW)
    sent = {"csrf_token": token(closed), "name": "Ada", "password": "wrong", "then": "/sales"}
    page = closed.post("/sign-in", sent, 422)
    assert "do not fit" in page.text
    assert page.form()["name"] == "Ada"
    assert closed.post("/sign-in", {**sent, "name": "Nobody"}, 422).heading == "Sign in"
    assert closed.post("/sign-in", {**sent, "password": PASSWORD}).path == "/sales"
    assert [deed.who for deed in last_deeds(service.engine)] == ["Ada"]
    closed.post("/sign-out", {"csrf_token": sent["csrf_token"]})
    assert closed.get("/sales").path == "/sign-in"


@pytest.mark.parametrize("then", ["https://elsewhere.example/", "//elsewhere.example", "/\\elsewhere.example", "x"])
def test_signing_in_leads_nowhere_else(closed: Client, service: Service, then: str) -> None:
    add_person(service.engine, "Ada", "luthier", HASHER.hash(PASSWORD), NOW)
    sent = {"csrf_token": token(closed), "name": "Ada", "password": PASSWORD, "then": then}
    assert closed.http.post("/sign-in", data=sent).headers["Location"] == "/"


def test_a_withdrawn_session_and_a_person_taken_off_are_out_at_once(service: Service) -> None:
    person = add_person(service.engine, "Ada", "owner", "-", NOW)
    assert person is not None
    inside = begin_session(service.engine, "owner", "Ada", NOW, person.id)
    phone = begin_session(service.engine, "phone", "a phone", NOW)
    assert len(sessions_now(service.engine, NOW)) == 2
    withdraw_session(service.engine, hashed(phone), NOW)
    assert session_of(service.engine, phone, NOW) is None
    assert not take_off(service.engine, person.id, NOW), "the only owner stays"
    add_person(service.engine, "Ben", "owner", "-", NOW)
    assert take_off(service.engine, person.id, NOW)
    assert session_of(service.engine, inside, NOW) is None


def test_nothing_in_the_database_opens_the_door(service: Service) -> None:
    inside = begin_session(service.engine, "owner", "Ada", NOW)
    (kept,) = sessions_now(service.engine, NOW)
    assert inside not in repr(kept)
    assert session_of(service.engine, kept.token_hash, NOW) is None


@pytest.mark.parametrize(
    "host", ["evil.example", "evil.example:8765", "localhost.evil.example", "127.0.0.1.evil.example"]
)
def test_a_foreign_host_is_refused(client: Client, host: str) -> None:
    reply = client.http.get("/", headers={"Host": host})
    assert reply.status_code == 400
    assert "does not go by that name" in reply.get_data(as_text=True)
    assert "evil" not in reply.get_data(as_text=True)


@pytest.mark.parametrize("host", ["localhost", "127.0.0.1:8765", "[::1]:8765", "[::1]"])
def test_its_own_names_are_known(client: Client, host: str) -> None:
    assert client.http.get("/", headers={"Host": host}).status_code == 200


def test_the_owner_adds_people_and_lets_a_phone_in(closed: Client, service: Service) -> None:
    come_in(closed, service, "owner")
    page = closed.get("/people")
    sent = {"csrf_token": page.form()["csrf_token"], "name": "Ben", "role": "assistant", "password": "short"}
    page = closed.post("/people", sent, 422)
    assert "ten letters or more" in page.text or "10 letters or more" in page.text
    assert "Ben" in closed.post("/people", {**sent, "password": PASSWORD}).text
    assert "Somebody is called Ben already" in closed.post("/people", {**sent, "password": PASSWORD}, 422).text
    page = closed.post("/people/phone", {"csrf_token": sent["csrf_token"]})
    assert "http://192.168.1.5:8765/in" in page.text


def test_health_is_told_to_everybody(closed: Client) -> None:
    assert closed.http.get("/health").get_json() == {"status": "well"}
