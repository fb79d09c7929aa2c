"""Every operation of the document on what nobody would send: no fault of the program, no answer that is not in it.

Ids of evaluations and quotes that are there are put in for every second case, so that it goes beyond "not found". The
usual run tries a few cases an operation; `-m long` tries hundreds.
"""

from collections.abc import Iterator
from typing import Any

import pytest
import schemathesis
from hypothesis import HealthCheck, Phase, given, settings
from hypothesis import strategies as st
from schemathesis.checks import not_a_server_error
from schemathesis.specs.openapi.checks import (
    content_type_conformance,
    negative_data_rejection,
    response_headers_conformance,
    response_schema_conformance,
    status_code_conformance,
)

from evaluator.web.api.operations import OPERATIONS
from evaluator.web.people.doors import limiter
from evaluator.web.service import Service
from tests.web.api.conftest import Program
from tests.web.api.test_operations import example
from tests.web.conftest import Client

CHECKS = (
    not_a_server_error,
    status_code_conformance,
    content_type_conformance,
    response_headers_conformance,
    response_schema_conformance,
    negative_data_rejection,
)
FEW, MANY = 3, 150
SLOW = (HealthCheck.too_slow, HealthCheck.filter_too_much, HealthCheck.data_too_large)


@pytest.fixture
def here(program: Program) -> Iterator[dict[str, list[str]]]:
    """Ids that are there: a draft, a finished one, and a quote of it."""
    draft, finished = (program.do("POST", "/evaluations", example(), 201)["id"] for _ in range(2))
    program.do("POST", f"/evaluations/{finished}/finish", {"version": 1})
    quote = program.do("POST", f"/evaluations/{finished}/quotes", {}, 201)["id"]
    wanted = {"materials": "none", "owner_noted": True, "identity_noted": True, "ticket": "1500"}
    offer = program.do("POST", f"/evaluations/{finished}/offers", wanted, 201)["id"]
    yield {"identity": [draft, finished], "quote": [quote], "offer": [offer]}
    limiter.reset()


def tried(client: Client, program: Program, here: dict[str, list[str]], name: str, count: int) -> int:
    """How many cases of an operation were sent; raises for the first answer that the document does not allow."""
    schema = schemathesis.openapi.from_wsgi("/api/1/openapi.json", client.app)
    operation = next(one.ok() for one in schema.get_all_operations() if one.ok().definition.raw["operationId"] == name)
    sent = 0

    @settings(
        max_examples=count, deadline=None, derandomize=True, database=None, suppress_health_check=SLOW,
        phases=(Phase.explicit, Phase.generate),
    )  # fmt: skip
    @given(case=operation.as_strategy(), known=st.integers(0, 3))
    def run(case: Any, known: int) -> None:
        nonlocal sent
        sent += 1
        limiter.reset()
        for key, ids in here.items():
            if key in (case.path_parameters or {}) and known % 2 == 0:
                case.path_parameters[key] = ids[known // 2 % len(ids)]
        answer = case.call(headers={"Authorization": f"Bearer {program.token}"})
        case.validate_response(answer, checks=CHECKS)

    run()
    return sent


@pytest.mark.parametrize("name", [one.name for one in OPERATIONS][::2])
def test_a_few_of_every_second(client: Client, program: Program, service: Service, here: Any, name: str) -> None:
    assert tried(client, program, here, name, FEW) > 0


@pytest.mark.long
@pytest.mark.parametrize("name", [one.name for one in OPERATIONS])
def test_many_of_each(client: Client, program: Program, service: Service, here: Any, name: str) -> None:
    assert tried(client, program, here, name, MANY) > 0
