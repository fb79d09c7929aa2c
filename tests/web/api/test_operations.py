"""A program's way from an instrument to a quote; scopes, clashes, keys that do a thing once, refusals in one form."""

import json
import re
from collections.abc import Mapping
from typing import Any

import pytest
from jsonschema import Draft202012Validator

from evaluator.basis.document import parse_document
from evaluator.result.json_form import result_schema
from evaluator.store.desk.tokens import all_tokens, find_token, make_token, withdraw_token
from evaluator.store.evaluations import newest
from evaluator.store.people import last_deeds
from evaluator.web.api.operations import OPERATIONS, SCOPES
from evaluator.web.api.routes import document
from evaluator.web.people.doors import limiter
from evaluator.web.service import Service
from tests.fleet.fleets import EXAMPLES
from tests.web.api.conftest import Program
from tests.web.conftest import NOW, Client

FILE = {"rubric": "violin", "title": "Red violin", "asking": {"amount": "780", "currency": "USD"}}
SALE = {
    "name": "Workshop violin", "sold_on": "2026-01-31", "kind": "dealer_sale", "price": "3,700.00", "currency": "USD",
    "family": "violin", "size": "4/4", "tier": "intermediate",
}  # fmt: skip
MONEY = re.compile(r"-?[0-9]+\.[0-9]{2}")


def example() -> dict[str, Any]:
    document, _ = parse_document(EXAMPLES[4].read_bytes(), "example")
    assert document is not None
    return document.data


def test_from_an_instrument_to_an_offered_quote(program: Program) -> None:
    made = program.send("POST", "/evaluations", example())
    assert made.status_code == 201
    found = made.get_json()
    place = f"/evaluations/{found['id']}"
    assert made.headers["Location"] == f"/api/1{place}"
    assert program.get(place) == found
    assert program.get("/evaluations")["evaluations"][0]["id"] == found["id"]
    answers = {"version": found["version"], "answers": {"purfling": "painted", "body_length": {"reading": "355 mm"}}}
    found = program.do("PUT", f"{place}/answers", answers)
    assert found["file"]["observations"]["purfling"] == [{"outcome": "painted"}]
    result = program.get(f"{place}/result")
    Draft202012Validator(result_schema()).validate(result)
    program.refused("POST", f"{place}/quotes", 409, {})
    program.do("POST", f"{place}/finish", {"version": found["version"]})
    quote = program.do("POST", f"{place}/quotes", {"about": "Trade-in"}, 201)
    assert quote["totals"]["required"]["total"] == result["plan"]["invoice"]["total"]
    offered = program.do("POST", f"/quotes/{quote['id']}/offer")
    assert offered["quote"]["state"] == program.get(f"/quotes/{quote['id']}")["state"] == "offered"
    for paper in (f"{place}/report.pdf?for=shop&paper=Letter", f"/quotes/{quote['id']}/quote.pdf"):
        answer = program.send("GET", paper)
        assert (answer.mimetype, answer.data[:5]) == ("application/pdf", b"%PDF-")


def test_the_result_is_what_the_page_gives(program: Program, service: Service, client: Client) -> None:
    found = program.do("POST", "/evaluations", example(), 201)
    page = client.http.get(f"/evaluations/{found['id']}/result.json").get_json()
    assert program.get(f"/evaluations/{found['id']}/result") == page


def amounts(value: Any) -> list[str]:
    """Every "amount" of a JSON value."""
    if isinstance(value, dict):
        here = [value["amount"]] if set(value) == {"amount", "currency"} else []
        return here + [one for inner in value.values() for one in amounts(inner)]
    return [one for inner in value for one in amounts(inner)] if isinstance(value, list) else []


def test_sales_and_offers_say_money_as_text_with_its_currency(program: Program) -> None:
    assert program.do("POST", "/sales", {"sales": [SALE, SALE]}) == {"added": 1, "there_already": 1}
    sales = program.get("/sales")
    assert sales["sales"][0]["price"] == {"amount": "3700.00", "currency": "USD"}
    made = program.do("POST", "/evaluations", example(), 201)
    wanted = {"materials": "none", "owner_noted": True, "identity_noted": True, "ticket": "1500"}
    offers = program.do("POST", f"/evaluations/{made['id']}/offers", wanted, 201)
    assert offers["ready"] == {"amount": "1500.00", "currency": "USD"}
    assert program.get(f"/offers/{offers['id']}") == offers == program.get("/offers")["offers"][0]
    found = amounts([sales, offers])
    assert len(found) > 10
    assert all(MONEY.fullmatch(one) for one in found)
    told = program.refused("POST", f"/evaluations/{made['id']}/offers", 409, {**wanted, "materials": "unknown"})
    assert told["errors"][0]["code"] == "trade_in.materials_unknown"
    told = program.refused("POST", f"/evaluations/{made['id']}/offers", 422, {**wanted, "ticket": "1450.000"})
    assert "can be" in told["detail"]


@pytest.mark.parametrize(
    ("body", "where"),
    [
        ({}, "rubric"),
        ({"rubric": "ukulele"}, ""),
        ({**FILE, "asked": 1}, "asked"),
        ({**FILE, "asking": {"amount": "1450.000"}}, "asking.amount"),
        ({**FILE, "instrument": {"size": "9/4"}}, "instrument.size"),
        ({**FILE, "observations": {"purfling": "nonsense"}}, 'check "purfling"'),
        ({**FILE, "observations": {"perfling": "inlaid"}}, 'check "perfling"'),
        ({**FILE, "title": "a\u0000b"}, "title"),
    ],
)
def test_every_mistake_is_told_with_its_place_and_nothing_is_kept(
    program: Program, service: Service, body: dict[str, Any], where: str
) -> None:
    told = program.refused("POST", "/evaluations", 422, body)
    assert not where or where in [one["where"] for one in told["errors"]], told
    assert newest(service.engine) == ()


def test_a_sale_with_a_mistake_keeps_the_others_out(program: Program) -> None:
    told = program.refused("POST", "/sales", 422, {"sales": [SALE, {**SALE, "sold_on": "2062-01-01"}]})
    assert told["errors"][0]["where"].startswith("sales.1: ")
    assert program.get("/sales") == {"sales": []}


def test_two_who_change_the_same_are_told(program: Program) -> None:
    made = program.do("POST", "/evaluations", FILE, 201)
    place = f"/evaluations/{made['id']}"
    program.do("POST", f"{place}/finish", {"version": 1})
    program.refused("POST", f"{place}/finish", 409, {"version": 1})
    program.refused("PUT", f"{place}/answers", 409, {"version": 1, "answers": {"purfling": "inlaid"}})


def test_a_key_does_a_thing_once(program: Program, service: Service) -> None:
    first = program.send("POST", "/evaluations", FILE, Idempotency_Key="visit-1")
    again = program.send("POST", "/evaluations", FILE, Idempotency_Key="visit-1")
    assert first.status_code == again.status_code == 201
    assert first.get_json() == again.get_json()
    assert first.headers["Location"] == again.headers["Location"]
    assert len(newest(service.engine)) == 1
    program.refused("POST", "/evaluations", 422, {**FILE, "title": "Another"}, Idempotency_Key="visit-1")
    program.refused("POST", "/evaluations", 422, FILE, Idempotency_Key="no spaces here")
    program.refused("POST", "/evaluations", 422, {}, Idempotency_Key="visit-2")
    program.do("POST", "/evaluations", FILE, 201, Idempotency_Key="visit-2")


def arguments(path: str) -> str:
    filled = path.replace("{family}", "violin")
    for name in ("identity", "quote", "offer"):
        filled = filled.replace(f"{{{name}}}", "0" * 12)
    return filled


@pytest.mark.parametrize("one", OPERATIONS, ids=lambda one: one.name)
def test_each_operation_asks_for_its_own_scope(client: Client, service: Service, one: Any) -> None:
    limiter.reset()
    others = tuple(name for name in SCOPES if name != one.scope)
    path, body = arguments(one.path), {} if one.body else None
    for token in ("", "evt_nonsense", make_token(service.engine, "old", (one.scope,), NOW, days=-1)):
        told = Program(client, token).refused(one.method, path, 401, body)
        assert "token" in told["detail"]
    assert (
        one.scope
        in Program(client, make_token(service.engine, "x", others, NOW)).refused(one.method, path, 403, body)["detail"]
    )
    answer = Program(client, make_token(service.engine, "y", (one.scope,), NOW)).send(one.method, path, body)
    assert answer.status_code not in (401, 403)
    limiter.reset()


def test_a_withdrawn_token_opens_nothing_and_none_lies_in_the_database(program: Program, service: Service) -> None:
    (kept,) = all_tokens(service.engine)
    assert program.token not in repr(kept)
    assert find_token(service.engine, kept.token_hash, NOW) is None
    assert withdraw_token(service.engine, kept.token_hash, NOW) == "till"
    program.refused("GET", "/evaluations", 401)


def test_what_a_program_did_stands_in_the_record(program: Program, service: Service) -> None:
    program.do("POST", "/evaluations", FILE, 201)
    assert (last_deeds(service.engine)[0].who, last_deeds(service.engine)[0].what) == (
        "till",
        "by program: begin evaluation",
    )


@pytest.mark.parametrize(
    ("method", "path", "status"),
    [
        ("GET", "/nowhere", 404),
        ("GET", "/evaluations/000000000000", 404),
        ("GET", "/evaluations/x%00y", 404),
        ("GET", "/quotes/000000000000", 404),
        ("GET", "/offers/000000000000", 404),
        ("GET", "/rubrics/ukulele", 404),
        ("DELETE", "/evaluations", 405),
        ("GET", "/evaluations?limit=0", 422),
        ("GET", "/evaluations?limit=x", 422),
        ("GET", "/evaluations?surprise=1", 422),
    ],
)
def test_what_there_is_not_is_told_in_the_same_form(program: Program, method: str, path: str, status: int) -> None:
    assert program.refused(method, path, status)["title"]


def test_a_body_that_is_no_json_is_told(program: Program) -> None:
    sent = {"Authorization": f"Bearer {program.token}"}
    for content, kind, status in (
        (b"{", "application/json", 400),
        (b"rubric: violin", "application/yaml", 415),
        (b"[" * 100_000, "application/json", 400),
        (b'{"rubric": "' + b"x" * 1_100_000 + b'"}', "application/json", 413),
    ):
        answer = program.http.post("/api/1/evaluations", data=content, content_type=kind, headers=sent)
        assert (answer.status_code, answer.mimetype) == (status, "application/problem+json"), answer.data[:200]


def test_guessing_at_tokens_has_to_wait(client: Client) -> None:
    limiter.reset()
    guessing = Program(client, "evt_guess")
    for _ in range(60):
        guessing.refused("GET", "/evaluations", 401)
    assert guessing.refused("GET", "/evaluations", 429)["title"] == "Too many tries"
    limiter.reset()


def test_the_document_names_the_types_that_are_served(client: Client) -> None:
    served = client.http.get("/api/1/openapi.json").get_json()
    assert served == json.loads(json.dumps(document()))
    assert served["openapi"].startswith("3.1")
    told = {(method, path) for path, methods in served["paths"].items() for method in methods}
    assert told == {(one.method.lower(), f"/api/1{one.path}") for one in OPERATIONS}
    schemas, alone = served["components"]["schemas"], result_schema()
    assert opened(schemas["Result"], schemas) == opened({"$ref": "#/$defs/Result"}, {**alone["$defs"], "Result": alone})


def opened(schema: Any, named: Mapping[str, Any], inside: tuple[str, ...] = ()) -> Any:
    """A schema with every name in it replaced by what it names; one inside itself stays a name."""
    if isinstance(schema, list):
        return [opened(one, named, inside) for one in schema]
    if not isinstance(schema, dict):
        return schema
    if "$ref" in schema:
        name = schema["$ref"].rpartition("/")[2]
        return opened(named[name], named, (*inside, name)) if name not in inside else named[name].get("title")
    left_out = ("$schema", "$defs", "title", "discriminator")
    return {key: opened(one, named, inside) for key, one in schema.items() if key not in left_out}
