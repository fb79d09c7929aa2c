"""The browser's reader of conditions gives what the service's gives, for any tree and any knowledge."""

import random
from pathlib import Path

import pytest
from playwright.sync_api import Browser

import evaluator.web
from evaluator.basis.formulas.formula import Formula, parse_formula
from evaluator.basis.formulas.tree import NoNumberError, is_true, listed, value_of

pytestmark = pytest.mark.browser

SOURCE = (Path(evaluator.web.__file__).parent / "static" / "formula.js").read_text(encoding="utf-8")
RUN = f"(cases) => {{ {SOURCE}\n return cases.map(([tree, known]) => formulaHolds(tree, (id) => known[id] ?? null)); }}"
NAMES = ("a", "b", "c", "d")
TEXTS = ("inlaid", "painted", "")
ARITHMETIC = ("+", "-", "*", "/", "min", "max")
COMPARISONS = ("<", "<=", ">", ">=", "==", "!=")


def leaf(rng: random.Random) -> object:
    kind = rng.random()
    if kind < 0.5:
        return ("name", rng.choice(NAMES))
    return ("text", rng.choice(TEXTS)) if kind < 0.65 else float(rng.choice([0, 1, 2, 2.5, -3, 1e200]))


def tree(rng: random.Random, depth: int) -> object:
    if depth == 0:
        return leaf(rng)
    kind = rng.choice(["arithmetic", "comparison", "and", "or", "not", "in", "one", "leaf"])
    below = (tree(rng, depth - 1), tree(rng, depth - 1))
    if kind == "arithmetic":
        return (rng.choice(ARITHMETIC), *below)
    if kind == "comparison":
        return (rng.choice(COMPARISONS), *below)
    if kind in {"and", "or"}:
        return (kind, *below)
    if kind == "in":
        return (rng.choice(["in", "not in"]), below[0], TEXTS[:2])
    return (rng.choice(["not", "-", "abs", "sqrt"]), below[0]) if kind in {"not", "one"} else leaf(rng)


def holds(node: object, known: dict[str, float | str]) -> bool:
    try:
        return is_true(value_of(node, known))
    except NoNumberError:
        return False


def test_random_trees_hold_alike(browser: Browser) -> None:
    rng = random.Random(11)
    cases = []
    for _ in range(4_000):
        known = {name: rng.choice([1.0, 0.0, 2.5, "inlaid", "painted"]) for name in NAMES if rng.random() < 0.7}
        cases.append((tree(rng, rng.randint(1, 4)), known))
    expected = [holds(node, known) for node, known in cases]
    assert 0.1 < sum(expected) / len(expected) < 0.9, "the trees must not all say the same"
    tab = browser.new_page()
    found = tab.evaluate(RUN, [[listed(node), known] for node, known in cases])
    tab.close()
    wrong = [case for case, one, other in zip(cases, found, expected, strict=True) if one != other]
    assert wrong == []


@pytest.mark.parametrize(
    ("text", "known", "expected"),
    [
        ('not (stance == "down")', {}, True),
        ('not (stance == "down")', {"stance": "down"}, False),
        ('purfling in ["painted", "missing"]', {}, False),
        ('purfling not in ["painted"]', {}, False),
        ("tuners > 1 and tuners < 5", {"tuners": 4}, True),
        ("not (1 / tuners > 2)", {"tuners": 0}, False),
        ("string_length / afterlength > 6", {"string_length": 330}, False),
    ],
)
def test_written_conditions(browser: Browser, text: str, known: dict[str, float | str], expected: bool) -> None:
    formula = parse_formula(text)
    assert isinstance(formula, Formula)
    assert formula.holds(known) is expected
    tab = browser.new_page()
    assert tab.evaluate(RUN, [[formula.tree(), known]]) == [expected]
    tab.close()
