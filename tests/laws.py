"""How often a law is tried: `tests/conftest.py` says on how many examples, this says which laws get fewer."""

from collections.abc import Sequence
from typing import Any

import pytest
from hypothesis import settings

USUAL = 100


def tried(usual: int) -> settings:
    """For a law whose examples are slow: so many in the usual run and not a hundred, ten times as many in the long."""
    return settings(max_examples=usual * settings().max_examples // USUAL)


def sampled(cases: Sequence[Any], every: int) -> list[Any]:
    """Of cases that take long and differ little, one in `every` in the usual run, and the others in the long."""
    rest = [number for number in range(len(cases)) if number % every]
    return [_late(case) if number in rest else case for number, case in enumerate(cases)]


def _late(case: Any) -> Any:
    return pytest.param(*(case if isinstance(case, tuple) else (case,)), marks=pytest.mark.long)
