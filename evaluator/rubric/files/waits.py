"""What a check waits for, written out: the named waits, and for a check under tension every outcome that says stop.

A rubric says once which outcomes mean that nobody tunes, plays or tightens (`unsafe`), and which checks do just that
(`under_tension`). Here each such check gets the outcomes under `postponed_by`, so that what comes after knows one list
only.
"""

from collections.abc import Iterator, Mapping

from ..model import Check
from ..waiting import Wait


def stopping(checks: Mapping[str, Check]) -> tuple[str, ...]:
    """Every outcome that says stop, as check.outcome, in the order of the checks."""
    return tuple(f"{name}.{key}" for name, check in checks.items() for key, one in check.outcomes.items() if one.unsafe)


def with_waits(checks: Mapping[str, Check], waits: Mapping[str, Wait]) -> dict[str, Check]:
    """The checks with all that they wait for as check.outcome; what is not in these checks is left out."""
    stops = stopping(checks)
    return {name: _written_out(check, checks, waits, stops) for name, check in checks.items()}


def _written_out(check: Check, checks: Mapping[str, Check], waits: Mapping[str, Wait], stops: tuple[str, ...]) -> Check:
    if not check.under_tension and all("." in one for one in check.postponed_by):
        return check
    wanted = dict.fromkeys((*(stops if check.under_tension else ()), *_named(check, waits)))
    found = tuple(one for one in wanted if _is_here(one, check, checks))
    return check.model_copy(update={"postponed_by": found})


def _named(check: Check, waits: Mapping[str, Wait]) -> Iterator[str]:
    for one in check.postponed_by:
        if "." not in one and one in waits:
            yield from waits[one].outcomes
        else:
            yield one


def _is_here(reference: str, check: Check, checks: Mapping[str, Check]) -> bool:
    name, _, outcome = reference.partition(".")
    return name != check.check and name in checks and outcome in checks[name].outcomes
