"""The tree of a formula and what it gives: the rule for what is unknown lives here, and in the browser.

Arithmetic with an unknown value is unknown (None), a comparison with an unknown value is False, and so is one of a
number with a text. The shape of the tree is described in `formula`.
"""

import math
from collections.abc import Callable, Iterator, Mapping
from typing import TypeAlias

Value: TypeAlias = "float | str | bool | None"
Names: TypeAlias = Mapping[str, Value]
Tree: TypeAlias = "float | tuple[object, ...]"
COMPARISONS = frozenset({"<", "<=", ">", ">=", "==", "!=", "in", "not in"})
CONDITIONS = COMPARISONS | {"and", "or", "not"}


class NoNumberError(Exception):
    """Left the walk because no finite number exists; `formula` puts it into words."""

    def __init__(self, code: str) -> None:
        self.code = code
        super().__init__(code)


def is_true(value: Value) -> bool:
    return value is not None and value is not False and value != 0


def value_of(node: object, names: Names) -> Value:
    if isinstance(node, float):
        return node
    assert isinstance(node, tuple)
    sign = node[0]
    if sign == "name":
        return names.get(node[1])
    if sign == "text":
        return str(node[1])
    if sign == "and":
        return all(is_true(value_of(part, names)) for part in node[1:])
    if sign == "or":
        return any(is_true(value_of(part, names)) for part in node[1:])
    if sign == "not":
        return not is_true(value_of(node[1], names))
    if sign in {"in", "not in"}:
        found = value_of(node[1], names)
        return found is not None and (found in node[2]) == (sign == "in")
    parts = [value_of(part, names) for part in node[1:]]
    return _compared(sign, parts) if sign in CONDITIONS else _reckoned(sign, parts)


def _compared(sign: str, parts: list[Value]) -> bool:
    """One comparison; an unknown side, or a number beside a text, makes it False."""
    left, right = parts
    if left is None or right is None or isinstance(left, str) != isinstance(right, str):
        return False
    if sign in {"==", "!="}:
        return (left == right) == (sign == "==")
    if isinstance(left, str) or isinstance(right, str):
        return False
    return {"<": left < right, "<=": left <= right, ">": left > right, ">=": left >= right}[sign]


def _reckoned(sign: str, parts: list[Value]) -> float | None:
    """Arithmetic and functions; None when a part is unknown or a text. Raises NoNumberError when not finite."""
    numbers = [float(part) for part in parts if part is not None and not isinstance(part, str)]
    if len(numbers) < len(parts):
        return None
    if sign == "/" and numbers[1] == 0:
        raise NoNumberError("formula.zero")
    if sign == "sqrt" and numbers[0] < 0:
        raise NoNumberError("formula.root")
    try:
        result = _APPLY[sign](numbers)
    except OverflowError:
        raise NoNumberError("formula.not_finite") from None
    if not math.isfinite(result):
        raise NoNumberError("formula.not_finite")
    return result


_APPLY: dict[str, Callable[[list[float]], float]] = {
    "+": lambda x: x[0] + x[1],
    "-": lambda x: -x[0] if len(x) == 1 else x[0] - x[1],
    "*": lambda x: x[0] * x[1],
    "/": lambda x: x[0] / x[1],
    "min": min,
    "max": max,
    "abs": lambda x: abs(x[0]),
    "sqrt": lambda x: math.sqrt(x[0]),
}


def names_in(node: object) -> Iterator[str]:
    if isinstance(node, tuple):
        if node[0] == "name":
            yield str(node[1])
        elif node[0] != "text":
            for part in node[1:]:
                if isinstance(part, tuple) and part and isinstance(part[0], str):
                    yield from names_in(part) if node[0] not in {"in", "not in"} or part is node[1] else ()


def listed(node: object) -> object:
    return [listed(part) for part in node] if isinstance(node, tuple) else node


def texts_compared_in(node: object) -> Iterator[tuple[str, str]]:
    if not isinstance(node, tuple) or node[0] in {"name", "text"}:
        return
    if node[0] in {"in", "not in"}:
        if isinstance(node[1], tuple) and node[1][0] == "name":
            yield from ((str(node[1][1]), text) for text in node[2])
        return
    sides = [part for part in node[1:] if isinstance(part, tuple)]
    names = [str(part[1]) for part in sides if part[0] == "name"]
    texts = [str(part[1]) for part in sides if part[0] == "text"]
    if node[0] in {"==", "!="}:
        yield from ((name, text) for name in names for text in texts)
    for part in sides:
        yield from texts_compared_in(part)
