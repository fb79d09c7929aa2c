"""A finished evaluation with many faults, and a shop whose tax, deposit and rounding all show."""

from dataclasses import replace
from decimal import Decimal

import pytest
import yaml

from evaluator.result.json_form import result_json
from evaluator.rubric.shop import Deposit, Shop, Tax
from evaluator.store.evaluations import create, find, finish
from evaluator.store.folders import rubrics_folder
from evaluator.web.service import Service
from tests.web.conftest import NOW, Client
from tests.web.quoting.steps import link_of, made


@pytest.fixture
def taxed(shop: Shop) -> Shop:
    """A shop whose tax, deposit and rounding all show in a total."""
    update = {
        "tax": Tax(labour=0.0825, parts=0.19),
        "rounding": "five_cents",
        "deposits": (Deposit(from_total=Decimal(200), share=0.25),),
    }
    return shop.model_copy(update=update)


@pytest.fixture
def service(service: Service, taxed: Shop) -> Service:
    return replace(service, shop=taxed)


@pytest.fixture
def finished(service: Service) -> str:
    """The id of a finished evaluation with many faults."""
    source = yaml.safe_load((rubrics_folder() / "examples" / "student_violin_cut_corners.yaml").read_text("utf-8"))
    answers = {
        name: {"outcome": one} if isinstance(one, str) else {"outcome": str(one.get("outcome", ""))}
        for name, one in source["observations"].items()
        if isinstance(one, str) or (isinstance(one, dict) and one.get("outcome"))
    }
    start = {"title": "Anna's violin", "size": "4/4", "style": "classical", "tier": "student"}
    identity = create(service.engine, "violin", {"start": start, "answers": answers}, NOW)
    kept = find(service.engine, identity)
    assert kept is not None
    finish(service.engine, identity, 1, result_json(service.result(kept)), "hash", NOW)
    return identity


@pytest.fixture
def quote(client: Client, finished: str) -> str:
    return made(client, finished)


@pytest.fixture
def path(client: Client, quote: str) -> str:
    return link_of(client, quote)
