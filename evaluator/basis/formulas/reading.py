"""Reading a formula: Python's `ast`, and every node must be on a white list, or the first that is not is named.

The shape of the tree that comes out is told in `formula`.
"""

import ast
import re
from collections.abc import Callable

from ..problem import Message, Messages, Place, problem
from .tree import Tree

MAX_SIZE = 1e12  # as in a typed reading
MAX_DEPTH = 30  # keeps the recursive walk far from Python's own limit

MESSAGES: Messages = {
    "formula.empty": Message("the formula is empty.", "Write it out, or leave the key away."),
    "formula.too_long": Message(
        "the formula has {length} characters; {limit} is the most.", "Split it into derived checks."
    ),
    "formula.too_deep": Message(
        "the formula is nested deeper than {limit} brackets or signs.", "Split it into derived checks."
    ),
    "formula.syntax": Message(
        "the formula breaks off or has a stray sign (letter {column}).", "Write it like string_length / afterlength."
    ),
    "formula.character": Message(
        'the sign "{sign}" (letter {column}) has no meaning in a formula.', "Use + - * / < > = and brackets only."
    ),
    "formula.number": Message(
        'the number "{number}" (letter {column}) is not plain.', "Write digits and a point, without exponent or unit."
    ),
    "formula.large": Message(
        "the number at letter {column} is larger than anything that is measured.", "Write it with fewer digits."
    ),
    "formula.not_allowed": Message("{what} (letter {column}) is not allowed in a formula.", "{instead}"),
    "formula.function": Message(
        'there is no function "{name}" (letter {column}).', "Only min, max, abs and sqrt are known."
    ),
    "formula.arguments": Message(
        "{name} (letter {column}) takes {wanted}, and was given {given}.", "Give it what it needs."
    ),
    "formula.text": Message(
        "a text in quotes (letter {column}) stands alone.",
        'Use it only beside ==, != or in, for example style == "fiddle".',
    ),
    "formula.zero": Message("the formula divides by zero for these readings.", "Check the readings."),
    "formula.not_finite": Message("the formula gives no finite number for these readings.", "Check the readings."),
    "formula.root": Message("the formula takes the root of a negative number.", "Check the readings."),
}

_ARITHMETIC: dict[type[ast.operator], str] = {ast.Add: "+", ast.Sub: "-", ast.Mult: "*", ast.Div: "/"}
_COMPARISON: dict[type[ast.cmpop], str] = {
    ast.Lt: "<",
    ast.LtE: "<=",
    ast.Gt: ">",
    ast.GtE: ">=",
    ast.Eq: "==",
    ast.NotEq: "!=",
    ast.In: "in",
    ast.NotIn: "not in",
}
FUNCTIONS = ("min", "max", "abs", "sqrt")
_QUOTED = re.compile(r'"[^"\\\n]*"|\'[^\'\\\n]*\'')
_STRANGE = re.compile(r"[^A-Za-z0-9_ .+\-*/<>=!()\[\],\n]")
_SINGLE = re.compile(r"(?<![=!<>])=(?!=)")
_BAD_NUMBER = re.compile(r"(?<![A-Za-z0-9_.])(?:[0-9.]+[A-Za-z_][A-Za-z0-9_.]*|0[0-9][0-9.]*|[0-9.]*\.[0-9]*\.[0-9.]*)")
_FORBIDDEN: dict[type[ast.AST], tuple[str, str]] = {
    ast.Attribute: ("a point between names", "Use the name of one check."),
    ast.Subscript: ("a square bracket after a name", "Use the name of one check."),
    ast.IfExp: ("if ... else", "Use two checks, each with its own relevant_if."),
    ast.Lambda: ("lambda", "Use min, max, abs or sqrt."),
    ast.List: ("a list", 'Use a list only after in, for example size in ["1/4", "1/8"].'),
    ast.Tuple: ("a comma", "Use commas only inside min(...), max(...) and [...]."),
    ast.Starred: ("a lone *", "Write what is multiplied."),
    ast.GeneratorExp: ("a loop", "Write the terms out."),
    ast.ListComp: ("a loop", "Write the terms out."),
    ast.keyword: ("a single =", "Use == to compare."),
}
_OPERATORS: dict[type[ast.AST], tuple[str, str]] = {
    ast.Pow: ("** (power)", "Multiply instead."),
    ast.FloorDiv: ("//", "Use /."),
    ast.Is: ("is", "Use ==."),
    ast.IsNot: ("is not", "Use !=."),
    ast.LShift: ("<<", "Use <."),
    ast.RShift: (">>", "Use >."),
}


class RefusedError(Exception):
    """Left the reading at the first thing that is not allowed; never leaves this room."""

    def __init__(self, code: str, column: int, **words: object) -> None:
        self.problem = problem(MESSAGES, code, "", Place("", 1, column), column=column, **words)
        super().__init__(code)


def read_tree(written: str, indent: int) -> Tree:
    """The tree of a formula without blanks around it, which stood `indent` letters in. Raises RefusedError."""
    _refuse_signs(written, indent)
    return _Reader(written, indent).read(_parsed(written, indent))


def _parsed(written: str, indent: int) -> ast.expr:
    try:
        return ast.parse(written, mode="eval").body
    except SyntaxError as error:
        if "too many nested" in str(error):
            raise RefusedError("formula.too_deep", 1 + indent, limit=MAX_DEPTH) from None
        raise RefusedError("formula.syntax", min(error.offset or len(written), len(written)) + indent) from None
    except UnicodeEncodeError as error:  # half of a letter, which no key types
        raise RefusedError("formula.syntax", error.start + 1 + indent) from None
    except (RecursionError, MemoryError):
        raise RefusedError("formula.too_deep", 1 + indent, limit=MAX_DEPTH) from None


def _refuse_signs(written: str, indent: int) -> None:
    """Stop strange signs and numbers before Python sees them (it would take 1e999, 0x10 and 1_000 for numbers)."""
    bare = _QUOTED.sub(lambda found: '""'.ljust(len(found[0])), written).replace('"', " ")
    if strange := _STRANGE.search(bare):
        raise RefusedError("formula.character", strange.start() + 1 + indent, sign=strange[0])
    if single := _SINGLE.search(bare):
        what, instead = _FORBIDDEN[ast.keyword]
        raise RefusedError("formula.not_allowed", single.start() + 1 + indent, what=what, instead=instead)
    if number := _BAD_NUMBER.search(bare):
        raise RefusedError("formula.number", number.start() + 1 + indent, number=number[0])


class _Reader:
    """Turns Python's tree into ours, refusing what is not on the white list."""

    def __init__(self, written: str, indent: int) -> None:
        self.written = written
        self.indent = indent
        self.by_type: dict[type[ast.AST], Callable[..., Tree]] = {
            ast.Constant: self.constant,
            ast.Name: lambda node, depth: ("name", node.id),
            ast.UnaryOp: self.unary,
            ast.BinOp: self.binary,
            ast.BoolOp: self.condition,
            ast.Compare: self.comparison,
            ast.Call: self.call,
        }

    def column(self, node: ast.AST) -> int:
        return int(getattr(node, "col_offset", 0)) + 1 + self.indent

    def refuse(self, node: ast.AST, what: str, instead: str) -> RefusedError:
        return RefusedError("formula.not_allowed", self.column(node), what=what, instead=instead)

    def refuse_sign(self, left: ast.expr, sign: type[ast.AST], otherwise: tuple[str, str]) -> RefusedError:
        """The refusal of an operator, at its own place after the left side."""
        end = int(left.end_col_offset or 0)
        end += len(self.written[end:]) - len(self.written[end:].lstrip(" )"))
        what, instead = _OPERATORS.get(sign, otherwise)
        column = end + 1 + self.indent
        return RefusedError("formula.not_allowed", column, what=what, instead=instead)

    def read(self, node: ast.AST, depth: int = 1) -> Tree:
        if depth > MAX_DEPTH:
            raise RefusedError("formula.too_deep", self.column(node), limit=MAX_DEPTH)
        handler = self.by_type.get(type(node))
        if handler is None:
            raise self.refuse(node, *_FORBIDDEN.get(type(node), ("this", "Use arithmetic and comparisons only.")))
        return handler(node, depth)

    def number(self, node: ast.AST, depth: int) -> Tree:
        """A part that must not be a text."""
        found = self.read(node, depth)
        if isinstance(found, tuple) and found[0] == "text":
            raise RefusedError("formula.text", self.column(node))
        return found

    def constant(self, node: ast.Constant, depth: int) -> Tree:
        if isinstance(node.value, str):
            return ("text", node.value)
        if isinstance(node.value, bool) or not isinstance(node.value, (int, float)):
            raise self.refuse(node, ast.unparse(node), "Write a number, or a comparison.")
        if abs(node.value) > MAX_SIZE:  # before it is made a float, which 310 digits do not fit into
            raise RefusedError("formula.large", self.column(node))
        return float(node.value)

    def unary(self, node: ast.UnaryOp, depth: int) -> Tree:
        inner = self.number(node.operand, depth + 1)
        if isinstance(node.op, ast.Not):
            return ("not", inner)
        return ("-", inner) if isinstance(node.op, ast.USub) else inner

    def binary(self, node: ast.BinOp, depth: int) -> Tree:
        sign = _ARITHMETIC.get(type(node.op))
        if sign is None:
            raise self.refuse_sign(node.left, type(node.op), ("this sign", "Use + - * /."))
        return (sign, self.number(node.left, depth + 1), self.number(node.right, depth + 1))

    def condition(self, node: ast.BoolOp, depth: int) -> Tree:
        sign = "and" if isinstance(node.op, ast.And) else "or"
        return (sign, *(self.number(part, depth + 1) for part in node.values))

    def comparison(self, node: ast.Compare, depth: int) -> Tree:
        parts: list[Tree] = []
        left = node.left
        for operator, right in zip(node.ops, node.comparators, strict=True):
            parts.append(self.one_comparison(left, operator, right, depth))
            left = right
        return parts[0] if len(parts) == 1 else ("and", *parts)

    def one_comparison(self, left: ast.expr, operator: ast.cmpop, right: ast.expr, depth: int) -> Tree:
        sign = _COMPARISON.get(type(operator))
        if sign is None:
            raise self.refuse_sign(left, type(operator), ("this sign", "Use < > == != or in."))
        if sign in {"in", "not in"}:
            return (sign, self.number(left, depth + 1), self.texts(right))
        first, second = self.read(left, depth + 1), self.read(right, depth + 1)
        texts = [isinstance(side, tuple) and side[0] == "text" for side in (first, second)]
        if all(texts) or (any(texts) and sign not in {"==", "!="}):
            raise RefusedError("formula.text", self.column(left if texts[0] else right))
        return (sign, first, second)

    def texts(self, node: ast.expr) -> tuple[str, ...]:
        """The texts of a list after `in`."""
        items = node.elts if isinstance(node, ast.List) else []
        found = [item.value for item in items if isinstance(item, ast.Constant) and isinstance(item.value, str)]
        if not found or len(found) != len(items):
            raise self.refuse(node, "this after in", 'Write a list of texts, for example size in ["1/4", "1/8"].')
        return tuple(found)

    def call(self, node: ast.Call, depth: int) -> Tree:
        name = node.func.id if isinstance(node.func, ast.Name) else ""
        if name not in FUNCTIONS:
            raise RefusedError("formula.function", self.column(node), name=name or "this")
        if node.keywords:  # ** before a name; a single = was refused before
            raise self.refuse(node, *_OPERATORS[ast.Pow])
        few = name in {"abs", "sqrt"}
        if (few and len(node.args) != 1) or (not few and len(node.args) < 2):
            wanted = "one value" if few else "two values or more"
            raise RefusedError("formula.arguments", self.column(node), name=name, wanted=wanted, given=len(node.args))
        return (name, *(self.number(part, depth + 1) for part in node.args))
