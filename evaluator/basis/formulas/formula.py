"""Formulas that a rubric may hold: arithmetic, comparisons and conditions, and nothing that could do harm.

The text is read with Python's `ast` and every node must be on a white list: numbers, names, + - * /, comparisons (also
chained), and / or / not, min, max, abs, sqrt, and texts in quotes beside ==, != and in [...]. There are no attributes,
no powers, no calls by name, and length and depth are bounded: a formula always ends and never touches anything.

What is not known decides by one rule: arithmetic with an unknown value is unknown (None), a comparison with an unknown
value is False. The tree is plain JSON, so the same rule runs in a browser:

    number 3, ["name", id], ["text", "inlaid"], ["-", x] (minus), ["+", x, y], ["<", x, y], ["in", x, ["a", "b"]],
    ["and", ...], ["or", ...], ["not", x], ["min", ...], ["max", ...], ["abs", x], ["sqrt", x]
"""

from dataclasses import field

from ..frozen import dataclass
from ..problem import Place, Problem, problem
from .reading import MESSAGES, RefusedError, read_tree
from .tree import CONDITIONS, Names, NoNumberError, Tree, Value, is_true, listed, names_in, texts_compared_in, value_of

MAX_LENGTH = 500  # a formula longer than this is a program, and nobody can read it aloud


@dataclass(frozen=True, slots=True)
class Formula:
    """A checked formula. `names` are the checks and facts that it reads."""

    text: str
    names: frozenset[str]
    node: Tree = field(repr=False, compare=False)

    def value(self, names: Names) -> Value:
        """The result for these values: a number, True or False; None where it is unknown or not a finite number."""
        try:
            return value_of(self.node, names)
        except NoNumberError:
            return None

    def problem(self, names: Names) -> Problem | None:
        """Why there is no number for these values although all are known; None when there is one."""
        try:
            value_of(self.node, names)
        except NoNumberError as why:
            return problem(MESSAGES, why.code, f'formula "{self.text}"')
        return None

    def holds(self, names: Names) -> bool:
        """The formula as a condition: True only where it is known to hold."""
        return is_true(self.value(names))

    @property
    def is_condition(self) -> bool:
        """Whether the result is yes or no rather than a number."""
        return isinstance(self.node, tuple) and self.node[0] in CONDITIONS

    def tree(self) -> object:
        """The formula as plain JSON (lists, texts, numbers), for a browser."""
        return listed(self.node)

    def texts_compared(self) -> tuple[tuple[str, str], ...]:
        """Each (name, text) pair that is compared, for checking that the text can occur at all."""
        return tuple(texts_compared_in(self.node))


def parse_formula(text: str) -> Formula | Problem:
    """The formula in `text`, or the first mistake in it; the problem's place holds the column, counted from 1."""
    if not text.strip():
        return problem(MESSAGES, "formula.empty", "", Place("", 1, 1))
    if len(text) > MAX_LENGTH:
        return problem(MESSAGES, "formula.too_long", "", Place("", 1, MAX_LENGTH), length=len(text), limit=MAX_LENGTH)
    indent = len(text) - len(text.lstrip())
    written = text.strip().replace("\n", " ")
    try:
        node = read_tree(written, indent)
    except RefusedError as refused:
        return refused.problem
    if isinstance(node, tuple) and node[0] == "text":
        return problem(MESSAGES, "formula.text", "", Place("", 1, 1), column=1)
    return Formula(written, frozenset(names_in(node)), node)
