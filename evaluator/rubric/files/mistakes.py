"""What pydantic complains of in our words: each mistake once, at its place, named after the check or job it is in."""

from collections.abc import Callable, Iterator, Mapping, Sequence
from typing import get_args

from pydantic import BaseModel, ValidationError
from pydantic_core import ErrorDetails

from ...basis.problem import Hints, Message, Messages, Place, Problem, problem

MESSAGES: Messages = {
    "shape.unknown_key": Message('unknown key "{key}".', "{hint}"),
    "shape.missing": Message('the key "{key}" is missing.', "Write {key}: and what belongs there."),
    "shape.choice": Message('"{value}" is not one of the choices.', "Use {choices}. {hint}"),
    "shape.text": Message("{value} is not a text.", 'Put it in quotes, for example "{value}".'),
    "shape.empty_text": Message("the text is empty.", "Write a few words, or take the key away."),
    "shape.long_text": Message("the text has more than {limit} letters.", "Say it more shortly."),
    "shape.number": Message('"{value}" is not a number.', "Write a plain number, for example 1.5."),
    "shape.whole": Message('"{value}" is not a whole number.', "Write a whole number, for example 2."),
    "shape.too_small": Message("{value} is too small.", "Write a number {limit}."),
    "shape.too_large": Message("{value} is too large.", "Write a number {limit}."),
    "shape.yes_no": Message('"{value}" is neither true nor false.', "Write true or false, without quotes."),
    "shape.id": Message('"{value}" cannot be a name.', "Begin with a small letter; use small letters, digits and _."),
    "shape.list": Message("{shown} stands where a list should be.", "Write it in [ ], or with a dash before each."),
    "shape.mapping": Message("{shown} stands where keys with values should be.", "Write key: value under it."),
    "shape.few": Message("the list is empty.", "Name at least one."),
    "shape.order": Message("low, likely and high are not in order.", "Write the smallest first."),
    "shape.currency": Message('"{value}" is not a currency.', "Use its three capital letters, for example USD."),
    "shape.amount": Message('"{value}" is not an amount.', "Write it with two decimals at most, for example 30.50."),
    "shape.together": Message("{reason}.", "Correct it here or in what stands below."),
}
_KIND: Mapping[str, str] = {
    "extra_forbidden": "unknown_key",
    "missing": "missing",
    "literal_error": "choice",
    "string_type": "text",
    "string_too_short": "empty_text",
    "string_too_long": "long_text",
    "string_pattern_mismatch": "id",
    "float_type": "number",
    "float_parsing": "number",
    "finite_number": "number",
    "decimal_parsing": "amount",
    "decimal_type": "amount",
    "decimal_max_digits": "amount",
    "decimal_max_places": "amount",
    "decimal_whole_digits": "amount",
    "int_type": "whole",
    "int_parsing": "whole",
    "int_from_float": "whole",
    "greater_than": "too_small",
    "greater_than_equal": "too_small",
    "less_than": "too_large",
    "less_than_equal": "too_large",
    "bool_type": "yes_no",
    "bool_parsing": "yes_no",
    "tuple_type": "list",
    "dict_type": "mapping",
    "model_type": "mapping",
    "model_attributes_type": "mapping",
    "too_short": "few",
}
_LIMIT = {"gt": "above {}", "ge": "of at least {}", "lt": "below {}", "le": "of at most {}"}
# The lists of a rubric file, the key that names an entry, and what an entry is called.
LISTS: tuple[tuple[str, str, str], ...] = (
    ("checks", "check", "check"),
    ("jobs", "job", "job"),
    ("shared_labour", "shared", "shared labour"),
    ("part_prices", "part", "part price"),
    ("causes", "cause", "cause"),
    ("cautions", "caution", "caution"),
    ("tools", "tool", "tool"),
    ("parts", "part", "part"),
    ("waits", "wait", "wait"),
    ("renamed", "was", "renamed check"),
    ("standards", "standard", "standard"),
    ("examples", "example", "example"),
    ("classes", "making", "class of making"),
    ("sign_groups", "group", "group of signs"),
    ("bands", "band", "band of the score"),
    ("likenesses", "check", "likeness"),
    ("judged", "judged", "figure of judgement"),
)
_NAMED = {kind: (key, word) for kind, key, word in LISTS}
_MANY_KEYS = 14  # more than this is no help in a sentence

Path = tuple[str | int | float, ...]
Locate = Callable[[Path, bool], Place]


def where_of(data: object, path: Sequence[object]) -> str:
    """'check "nut_height", outcome "low"': the entry that a path leads into, by its id or else its number."""
    if not path:
        return ""
    if path[0] == "change" and len(path) > 1:
        found = f'change of "{path[1]}"'
    elif path[0] in _NAMED and len(path) > 1 and isinstance(path[1], int):
        key, word = _NAMED[str(path[0])]
        identity = _inside(_inside(_inside(data, path[0]), path[1]), key)
        found = f'{word} "{identity}"' if isinstance(identity, str) else f"{word} number {path[1] + 1}"
    elif path[0] == "domain_shares":
        found = "domain_shares"
    elif isinstance(data, Mapping) and isinstance(name := next(iter(data.values()), None), str):
        key = next(iter(data))
        found = next((f'{word} "{name}"' for one, word in _NAMED.values() if one == key), "")
    else:
        return ""
    at = path.index("outcomes") + 1 if "outcomes" in path else len(path)
    return f'{found}, outcome "{path[at]}"' if found and at < len(path) else found


def _inside(data: object, step: object) -> object:
    if isinstance(data, Mapping):
        return data.get(step)
    if isinstance(data, list) and isinstance(step, int) and 0 <= step < len(data):
        return data[step]
    return None


def problems_of(
    error: ValidationError, data: object, locate: Locate, model: type[BaseModel], hints: Hints | None = None
) -> list[Problem]:
    """Every complaint about `data`, in reading order of pydantic; `locate` gives the place of a path or of its key."""
    hints = hints or Hints()
    found: dict[tuple[Path, bool], list[ErrorDetails]] = {}
    for one in _without_other_branches(error, data):
        path = _real_path(one["loc"], data, one["type"])
        found.setdefault((path, "[key]" in one["loc"]), []).append(one)
    about = (data, locate, model, hints)
    return [_problem(complaints, path, is_key, about) for (path, is_key), complaints in found.items()]


def _problem(
    complaints: Sequence[ErrorDetails], path: Path, is_key: bool, about: tuple[object, Locate, type[BaseModel], Hints]
) -> Problem:
    """One problem of all complaints about one path: the first, with all choices (a key may be a tier or a style)."""
    data, locate, model, hints = about
    code, words = _code_and_words(complaints[0], path, model, hints)
    if code == "shape.choice":
        choices = [word for one in complaints for word in _choices(one)]
        words |= {"choices": _listed(choices), "hint": hints.near(str(words["value"]), choices)}
    place = locate(path, is_key or code == "shape.unknown_key")
    return problem(MESSAGES, code, where_of(data, path), place, **words)


def _choices(one: ErrorDetails) -> list[str]:
    expected = str((one.get("ctx") or {}).get("expected", ""))
    return [word.strip(" '") for word in expected.replace(" or ", ",").split(",")]


def _without_other_branches(error: ValidationError, data: object) -> Iterator[ErrorDetails]:
    """Of a field that may be a number or a mapping, only the complaints about what was written."""
    for one in error.errors(include_url=False):
        here = data
        for step in one["loc"]:
            if step == "[key]":
                yield one
                break
            inner = _inside(here, step)
            if inner is None and isinstance(step, str) and _is_branch(step, here):
                if isinstance(here, Mapping) == _is_scalar_branch(step):
                    break
                continue
            here = inner
        else:
            yield one


def _is_branch(step: str, here: object) -> bool:
    """Whether a step of pydantic's path names a member of a union rather than a key."""
    return step[:1].isupper() or "[" in step[1:] or _is_scalar_branch(step) or not isinstance(here, Mapping | list)


def _is_scalar_branch(step: str) -> bool:
    return step.partition("[")[0].rpartition("-")[2] in {"float", "int", "str", "constrained", "literal"}


def _real_path(loc: Path, data: object, kind: str) -> Path:
    """Pydantic's path without the names of union members and the mark for keys."""
    path: list[str | int | float] = []
    last = len(loc) - 1
    for at, step in enumerate(loc):
        inner = _inside(data, step)
        is_branch = isinstance(step, str) and inner is None and _is_branch(step, data)
        if step == "[key]" or (is_branch and not (at == last and kind in {"missing", "extra_forbidden"})):
            continue
        path.append(step)
        data = inner
    return tuple(path)


def _models(annotation: object) -> Iterator[type[BaseModel]]:
    if isinstance(annotation, type) and issubclass(annotation, BaseModel):
        yield annotation
    for inner in get_args(annotation):
        yield from _models(inner)


def keys_at(model: type[BaseModel], path: Sequence[object]) -> list[str]:
    """The keys that may stand in the model at the end of a path."""
    for step in path:
        field = next((f for n, f in model.model_fields.items() if step in (f.alias or n, n)), None)
        model = next(_models(field.annotation), model) if field else model
    return [field.alias or name for name, field in model.model_fields.items()]


def _code_and_words(
    one: ErrorDetails, path: Path, model: type[BaseModel], hints: Hints
) -> tuple[str, dict[str, object]]:
    context: Mapping[str, object] = one.get("ctx") or {}
    value = _shown(one["input"])
    key = str(path[-1]) if path else ""
    kind = _KIND.get(one["type"], "")
    reason = one["msg"].removeprefix("Value error, ")
    if not kind:
        kind = "order" if "must not fall" in reason else "together"
    if kind == "id" and "A-Z" in str(context.get("pattern")):
        kind = "currency"
    limit = next((text.format(f"{context[k]:g}") for k, text in _LIMIT.items() if k in context), "")
    plain = isinstance(one["input"], (str, int, float)) and not isinstance(one["input"], bool)
    words: dict[str, object] = {"key": key, "value": value, "reason": reason, "shown": f'"{value}"' if plain else value}
    words["limit"] = limit or context.get("max_length", "")
    if kind == "unknown_key":
        known = keys_at(model, path[:-1])
        words["hint"] = hints.near(key, known) or _known(known)
    return f"shape.{kind}", words


def _known(keys: Sequence[str]) -> str:
    if len(keys) > _MANY_KEYS:
        return "The keys are listed in rubrics/README.md."
    return f"Known here: {', '.join(keys)}."


def _listed(words: Sequence[str]) -> str:
    return f"{', '.join(words[:-1])} or {words[-1]}" if len(words) > 1 else words[0]


def _shown(value: object) -> str:
    if value is None:
        return "nothing"
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, Mapping):
        return "keys with values"
    if isinstance(value, (list, tuple)):
        return "a list"
    text = " ".join(str(value).split())
    return text if len(text) <= 40 else text[:39] + "…"
