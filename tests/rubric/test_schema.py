"""The schema for editors: a schema, in step with the models, and true of our own files."""

import json
from pathlib import Path

import jsonschema
import pytest

from evaluator.basis.document import parse_document
from evaluator.rubric import file, guide, making, shop
from evaluator.rubric.file import schema
from evaluator.rubric.keys.rubric import BLOCKS, KEYS
from evaluator.rubric.keys.shop import SHOP_BLOCKS, SHOP_KEYS
from evaluator.rubric.written import checks, kinds, surroundings, work
from evaluator.store.folders import rubrics_folder
from tests.rubric.small import JOBS, VIOLIN

FILES = sorted(
    path
    for folder in ("families", "checks", "standards", "jobs")
    for path in (rubrics_folder() / folder).glob("*.yaml")
)
CHECKER = jsonschema.Draft202012Validator(schema())


def as_json(text: str) -> object:
    document, problems = parse_document(text, "f")
    assert document is not None, problems
    return json.loads(json.dumps(document.data))


def test_it_is_a_schema_of_the_draft() -> None:
    jsonschema.Draft202012Validator.check_schema(schema())
    assert schema()["$schema"] == "https://json-schema.org/draft/2020-12/schema"


def test_every_key_is_explained_and_no_other() -> None:
    for block, keys in KEYS.items():
        homes = (checks, kinds, surroundings, work, file, making)
        fields = next(getattr(one, block) for one in homes if hasattr(one, block)).model_fields
        assert list(keys) == [field.alias or name for name, field in fields.items()], block
        assert all(said.endswith(".") for said in keys.values()), block
    assert set(KEYS) == set(BLOCKS) == {*schema()["$defs"], "RubricFile"}


def test_every_key_of_a_shop_is_explained_and_no_other() -> None:
    for block, keys in SHOP_KEYS.items():
        fields = next(getattr(one, block) for one in (shop, guide) if hasattr(one, block)).model_fields
        assert list(keys) == list(fields), block
        assert all(said.endswith(".") for said in keys.values()), block
    there = {*shop.Shop.model_json_schema()["$defs"], "Shop"} - {"ThreePoint"}
    assert set(SHOP_KEYS) == set(SHOP_BLOCKS) == there


@pytest.mark.parametrize("text", [VIOLIN, JOBS, "extends: violin\n", "extends: [violin, viola]\n"])
def test_it_takes_what_loads(text: str) -> None:
    CHECKER.validate(as_json(text))


@pytest.mark.parametrize("path", FILES, ids=lambda path: f"{path.parent.name}/{path.name}")
def test_it_takes_our_files(path: Path) -> None:
    CHECKER.validate(as_json(path.read_text(encoding="utf-8")))


@pytest.mark.parametrize(
    "text",
    [
        "rubrics: violin",
        "family: guitar",
        "extends: 3",
        "checks: [{check: a, part: b}]",
        "checks: [{check: A, part: b, ask: c}]",
        "checks: [{check: a, part: b, ask: c, worth_at: {often: 1}}]",
        "checks: [{check: a, part: b, ask: c, seen_by: {letter: 1}}]",
        "checks: [{check: a, part: b, ask: c, outcomes: {x: {say: d, class: sound, class_for: {kid: fault}}}}]",
        "causes: [{cause: a, say: b, if_not: c, about: condition, prior: {Kid: 0.5}}]",
        "causes: [{cause: a, say: b, if_not: c, about: condition, prior: 2}]",
    ],
)
def test_it_refuses_what_does_not_load(text: str) -> None:
    assert not CHECKER.is_valid(as_json(text))
