"""What the tests of the calculators share: ask with keywords, get JSON or the mistakes in words."""

from typing import Any

from evaluator.calculators.answering import answer, to_json
from tests.known import CALCULATORS


def ask(calculator: str, **typed: str) -> dict[str, Any]:
    """The JSON of an answer; the test fails with the mistakes where there is none."""
    found, problems = answer(CALCULATORS[calculator], typed)
    assert found is not None, "; ".join(str(one) for one in problems)
    return to_json(found)


def value(calculator: str, **typed: str) -> float:
    found = ask(calculator, **typed)["value"]
    assert isinstance(found, float)
    return found


def also(calculator: str, name: str, **typed: str) -> float:
    found = ask(calculator, **typed)["also"][name]["value"]
    assert isinstance(found, float)
    return found


def mistakes(calculator: str, **typed: str) -> list[str]:
    """Every mistake in words; the test fails where there is an answer."""
    found, problems = answer(CALCULATORS[calculator], typed)
    assert found is None
    return [str(one) for one in problems]
