"""A whole file of a rubric: which lists and settings it may hold, and its JSON Schema (draft 2020-12) for editors.

The schema is made from the models, with a sentence for every key.
"""

from collections.abc import Mapping
from typing import Annotated, get_args

from pydantic import BeforeValidator

from ..basis.record import JsonObject, as_list, as_object
from .files.renamed import Renamed
from .keys.rubric import KEYS
from .making import Band, MakingClass, SignGroup
from .written.checks import Check, Likeness
from .written.kinds import Age, Domain, Family, Id, NotNegative, Style, Text, Tier, Written
from .written.surroundings import Cause, Caution, Judged, Part, RubricExample, Safety, StandardTable, Tool, Wait
from .written.work import Job, PartPrice, SharedLabour

DRAFT = "https://json-schema.org/draft/2020-12/schema"
_NUMBER_KEY = {"pattern": r"^-?[0-9]+(\.[0-9]+)?$"}
# Keys that pydantic's schema leaves open: numbers, and names out of two lists.
_KEY_RULES: Mapping[tuple[str, str], JsonObject] = {
    ("Check", "worth_at"): _NUMBER_KEY,
    ("Renamed", "numbers"): _NUMBER_KEY,
    ("StandardRow", "worth_at"): _NUMBER_KEY,
    ("Outcome", "class_for"): {"enum": [*get_args(Tier), *get_args(Style), *get_args(Age)]},
    ("Outcome", "worth_for"): {"enum": [*get_args(Tier), *get_args(Style), *get_args(Age)]},
    ("Cause", "prior"): {"anyOf": [{"enum": [*get_args(Age)]}, {"pattern": "^[a-z][a-z0-9_]*$"}]},
}


def _one_or_several(value: object) -> object:
    """A single name is a list of one."""
    return (value,) if isinstance(value, str) else value


class RubricFile(Written):
    """Any file under rubrics/ but shop files: each key is optional, so a file may hold one subject only."""

    rubric: Id | None = None
    version: str | None = None
    title: Text | None = None
    by: Text | None = None
    family: Family | None = None
    extends: Annotated[tuple[str, ...], BeforeValidator(_one_or_several)] = ()
    include: tuple[str, ...] = ()
    sizes: tuple[str, ...] = ()
    default_size: str | None = None
    domain_shares: dict[Tier, dict[Domain, NotNegative]] = {}
    parts: tuple[Part, ...] = ()
    safety: Safety | None = None
    waits: tuple[Wait, ...] = ()
    renamed: tuple[Renamed, ...] = ()
    causes: tuple[Cause, ...] = ()
    cautions: tuple[Caution, ...] = ()
    sources: dict[str, Text] = {}
    tools: tuple[Tool, ...] = ()
    checks: tuple[Check, ...] = ()
    standards: tuple[StandardTable, ...] = ()
    part_prices: tuple[PartPrice, ...] = ()
    shared_labour: tuple[SharedLabour, ...] = ()
    jobs: tuple[Job, ...] = ()
    classes: tuple[MakingClass, ...] = ()
    sign_groups: tuple[SignGroup, ...] = ()
    bands: tuple[Band, ...] = ()
    likenesses: tuple[Likeness, ...] = ()
    judged: tuple[Judged, ...] = ()
    drop: tuple[Id, ...] = ()
    change: dict[Id, dict[str, object]] = {}
    examples: tuple[RubricExample, ...] = ()


def schema() -> dict[str, object]:
    """The schema of any file under rubrics/ but shop files and evaluations."""
    made = RubricFile.model_json_schema(by_alias=True)
    blocks = {**made.pop("$defs"), "RubricFile": made}
    for name, block in blocks.items():
        block["description"] = block.get("description", "").split("\n")[0].replace("`", "")
        for key, rule in block["properties"].items():
            _tidy(name, key, rule)
    made["properties"]["extends"] = {
        "description": KEYS["RubricFile"]["extends"],
        "anyOf": [{"type": "string"}, {"type": "array", "items": {"type": "string"}}],
    }
    blocks.pop("RubricFile")
    return {"$schema": DRAFT, **made, "title": "Rubric file", "$defs": blocks}


def _tidy(block: str, key: str, rule: dict[str, object]) -> None:
    """Give a key its sentence, take away the title that only repeats its name, and bound the names inside it."""
    rule.pop("title", None)
    rule["description"] = KEYS[block][key]
    names = _KEY_RULES.get((block, key))
    if names:
        for part in (rule, *_branches(rule)):
            if part.get("type") == "object":
                part["propertyNames"] = names


def _branches(rule: JsonObject) -> list[dict[str, object]]:
    """The ways in which a key may be written; empty where there is one."""
    found = rule.get("anyOf")
    return found if isinstance(found, list) else []


def key_reference() -> str:
    """The key reference of rubrics/README.md, in Markdown: every block with its keys, what must be there in bold; first
    those of rubric files, then those of a shop file.
    """
    from .keys.rubric import BLOCKS
    from .keys.shop import SHOP_BLOCKS, SHOP_KEYS
    from .shop import Shop

    whole, shop = schema(), Shop.model_json_schema(by_alias=True)
    lines: list[str] = []
    for name, heading in BLOCKS.items():
        lines += _block(heading, whole if name == "RubricFile" else _defined(whole, name), KEYS[name])
    for name, heading in SHOP_BLOCKS.items():
        lines += _block(heading, shop if name == "Shop" else _defined(shop, name), SHOP_KEYS[name])
    return "\n".join(lines)


def _defined(whole: JsonObject, name: str) -> JsonObject:
    return as_object(as_object(whole["$defs"])[name])


def _block(heading: str, block: JsonObject, said: Mapping[str, str]) -> list[str]:
    required = set(as_list(block.get("required", [])))
    lines = [f"### {heading}", "", "| key | what it means | allowed |", "|---|---|---|"]
    for key, rule in as_object(block["properties"]).items():
        shown = f"**`{key}`**" if key in required else f"`{key}`"
        lines.append(f"| {shown} | {said[key]} | {_allowed(as_object(rule))} |")
    return [*lines, ""]


def _allowed(rule: JsonObject) -> str:
    """What may be written, in a few words."""
    if "anyOf" in rule:
        return " or ".join(dict.fromkeys(_allowed(one) for one in _branches(rule) if one.get("type") != "null"))
    if "$ref" in rule:
        return "keys, see below"
    if "enum" in rule:
        return ", ".join(map(str, as_list(rule["enum"])))
    if rule["type"] == "array":
        return f"list of {_allowed(as_object(rule['items']))}"
    if rule["type"] == "object":
        return (
            f"keys with {_allowed(as_object(rule['additionalProperties']))}"
            if rule.get("additionalProperties")
            else "keys"
        )
    return _simple(rule)


def _simple(rule: JsonObject) -> str:
    if rule["type"] == "boolean":
        return "true or false"
    if rule["type"] == "string":
        return "id" if str(rule.get("pattern", "")).startswith("^[a-z]") else "text"
    word = "whole number" if rule["type"] == "integer" else "number"
    low, high = rule.get("minimum"), rule.get("maximum")
    if low is not None and high is not None:
        return f"{word}, {low:g} to {high:g}"
    if "exclusiveMinimum" in rule:
        return f"{word} above {rule['exclusiveMinimum']:g}"
    return f"{word} from {low:g}" if low is not None else word
