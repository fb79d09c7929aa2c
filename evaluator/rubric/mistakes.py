"""Pydantic's complaints in our words, each at its place in the file and under the name of the check or job it is in."""

from collections.abc import Iterator, Mapping
from typing import Any, get_args

from pydantic import BaseModel, ValidationError

from ..basis.document import Document
from ..basis.message import Message, Messages, problem
from ..basis.problem import Problem, did_you_mean
from .model import RubricFile

MESSAGES: Messages = {
    "rubric.unknown_key": Message('unknown key "{key}".', "{hint}"),
    "rubric.missing": Message('the key "{key}" is missing.', "Write it."),
    "rubric.choice": Message('"{value}" is not allowed.', "Use {expected}. {hint}"),
    "rubric.text": Message("this must be text, not {value}.", "Put it in quotes."),
    "rubric.empty_text": Message("the text is empty.", "Write a few words."),
    "rubric.long_text": Message("the text is too long.", "Say it more shortly."),
    "rubric.number": Message('"{value}" is not a number.', "Write a plain number, for example 1.5."),
    "rubric.whole": Message('"{value}" is not a whole number.', "Write a whole number, for example 2."),
    "rubric.too_small": Message("{value} is too small.", "Write a number {limit}."),
    "rubric.too_large": Message("{value} is too large.", "Write a number {limit}."),
    "rubric.yes_no": Message('"{value}" is not true or false.', "Write true or false."),
    "rubric.id": Message('"{value}" is not a name.', "Use small letters, digits and _ and begin with a letter."),
    "rubric.list": Message("this must be a list.", "Write it in [ ] or with a dash before each."),
    "rubric.mapping": Message("this must be keys and values.", "Write key: value under it."),
    "rubric.few": Message("the list is too short.", "Name at least one."),
    "rubric.three_point": Message("low, likely and high must not fall.", "Write the smallest first."),
    "rubric.currency": Message('"{value}" is not a currency.', "Use its three letters, for example USD."),
    "rubric.other": Message("{reason}.", "Look at the key reference."),
}

_KIND: Mapping[str, str] = {
    "extra_forbidden": "rubric.unknown_key",
    "missing": "rubric.missing",
    "literal_error": "rubric.choice",
    "enum": "rubric.choice",
    "string_type": "rubric.text",
    "string_too_short": "rubric.empty_text",
    "string_too_long": "rubric.long_text",
    "string_pattern_mismatch": "rubric.id",
    "float_type": "rubric.number",
    "float_parsing": "rubric.number",
    "finite_number": "rubric.number",
    "decimal_parsing": "rubric.number",
    "decimal_type": "rubric.number",
    "int_type": "rubric.whole",
    "int_parsing": "rubric.whole",
    "int_from_float": "rubric.whole",
    "greater_than": "rubric.too_small",
    "greater_than_equal": "rubric.too_small",
    "less_than": "rubric.too_large",
    "less_than_equal": "rubric.too_large",
    "bool_type": "rubric.yes_no",
    "bool_parsing": "rubric.yes_no",
    "tuple_type": "rubric.list",
    "list_type": "rubric.list",
    "dict_type": "rubric.mapping",
    "mapping_type": "rubric.mapping",
    "model_type": "rubric.mapping",
    "model_attributes_type": "rubric.mapping",
    "too_short": "rubric.few",
}
_LIMIT = {"gt": "above {}", "ge": "of at least {}", "lt": "below {}", "le": "of at most {}"}
# The keys whose value names the thing that a mistake is in, and what to call the thing.
NAMING = (
    ("check", "check"), ("job", "job"), ("standard", "standard"), ("cause", "cause"), ("caution", "caution"),
    ("tool", "tool"), ("shared", "shared labour"), ("part", "part"), ("example", "example"),
)  # fmt: skip


def where_of(data: object, path: tuple[str | int, ...]) -> str:
    """'check "nut_height"': the innermost named thing on the way to a path; the empty string outside any."""
    found = ""
    for step in path:
        if (isinstance(data, Mapping) and step in data) or (
            isinstance(data, list) and isinstance(step, int) and step < len(data)
        ):
            data = data[step]
        else:
            continue
        if isinstance(data, Mapping):
            named = next((f'{word} "{data[key]}"' for key, word in NAMING if isinstance(data.get(key), str)), "")
            found = named or found
    return found


def _models(annotation: Any) -> Iterator[type[BaseModel]]:
    if isinstance(annotation, type) and issubclass(annotation, BaseModel):
        yield annotation
    for inner in get_args(annotation):
        yield from _models(inner)


def _keys_at(model: type[BaseModel], path: tuple[str | int, ...]) -> list[str]:
    """The keys that may stand beside the one at the end of a path."""
    for step in path[:-1]:
        if isinstance(step, str):
            field = next((f for n, f in model.model_fields.items() if step in (n, f.alias)), None)
            inner = next(_models(field.annotation), None) if field else None
            model = inner or model
    return [field.alias or name for name, field in model.model_fields.items()]


def problems_of(error: ValidationError, document: Document, model: type[BaseModel] = RubricFile) -> list[Problem]:
    """Each complaint once, in our words."""
    found: dict[tuple[object, str], Problem] = {}
    for one in error.errors(include_url=False):
        path = tuple(one["loc"])
        code, words = _code_and_words(one, path, model)
        place = document.place(*path, key=code == "rubric.unknown_key")
        found.setdefault((place, code), problem(MESSAGES, code, where_of(document.data, path), place, **words))
    return list(found.values())


def _code_and_words(one: Any, path: tuple[str | int, ...], model: type[BaseModel]) -> tuple[str, dict[str, object]]:
    context: Mapping[str, Any] = one.get("ctx") or {}
    value = str(one["input"])[:60]
    key = str(path[-1]) if path else ""
    code = _KIND.get(one["type"], "rubric.other")
    if code == "rubric.id" and "[A-Z]{3}" in str(context.get("pattern")):
        code = "rubric.currency"
    if code == "rubric.other" and "must not fall" in one["msg"]:
        code = "rubric.three_point"
    expected = str(context.get("expected", "")).replace("'", "")
    choices = [word.strip() for word in expected.replace(" or ", ", ").split(",")]
    limit = next((text.format(f"{context[k]:g}") for k, text in _LIMIT.items() if k in context), "")
    hint = did_you_mean(key, _keys_at(model, path)) if code == "rubric.unknown_key" else did_you_mean(value, choices)
    reason = one["msg"].removeprefix("Value error, ")
    return code, {
        "key": key, "hint": hint, "value": value, "expected": expected, "limit": limit, "reason": reason,
    }  # fmt: skip
