"""What a check waits for, written out: the named waits, and for a check under tension every outcome that says stop.

A rubric says once which outcomes mean that nobody tunes, plays or tightens (`unsafe`), and which checks do just that
(`under_tension`). Here each such check gets the outcomes under `postponed_by`, so that what comes after knows one list
only.
"""

import re
from collections.abc import Iterator, Mapping
from functools import partial

from ..written.checks import Check
from ..written.surroundings import Wait
from .renamed import Renamed


def stopping(checks: Mapping[str, Check]) -> tuple[str, ...]:
    """Every outcome that says stop, as check.outcome, in the order of the checks."""
    return tuple(f"{name}.{key}" for name, check in checks.items() for key, one in check.outcomes.items() if one.unsafe)


def with_waits(
    checks: Mapping[str, Check], waits: Mapping[str, Wait], renamed: Mapping[str, Renamed] | None = None
) -> dict[str, Check]:
    """The checks with all that they wait for as check.outcome; what is not in these checks is left out.

    `renamed`: names of before are read as those of today.
    """
    stops = stopping(checks)
    today = {name: _today(check, renamed or {}) for name, check in checks.items()}
    return {name: _written_out(check, checks, waits, stops) for name, check in today.items()}


def today(reference: str, renamed: Mapping[str, Renamed]) -> str:
    """A check.outcome by the names of today."""
    name, _, outcome = reference.partition(".")
    entry = renamed.get(name)
    if entry is None or (entry.now is None and outcome not in entry.outcomes):
        return reference
    check, said = entry.today(outcome)
    return f"{check or name}.{said}"


def formula_today(text: str, renamed: Mapping[str, Renamed]) -> str:
    """A condition by the names of today: `old == "word"` and `old in ["word", ...]`; words that are now answers of
    several checks become an `or` of them."""
    for name, entry in renamed.items():
        if name in text and (entry.now is not None or entry.outcomes):
            compared = re.compile(rf'\b{name}\b(\s*(?:==|!=|in)\s*)("[a-z_0-9]*"|\[[^\]]*\])')
            text = compared.sub(partial(_compared_today, entry), text)
    return text


def _compared_today(entry: Renamed, found: re.Match[str]) -> str:
    homes: dict[str, list[str]] = {}
    for word in re.findall(r'"([a-z_0-9]*)"', found[2]):
        check, said = entry.today(word)
        homes.setdefault(check or entry.was, []).append(f'"{said}"')
    of = "[{}]" if found[2].startswith("[") else "{}"
    told = [f"{home}{found[1]}{of.format(', '.join(words))}" for home, words in homes.items()]
    return told[0] if len(told) == 1 else f"({' or '.join(told)})"


def _today(check: Check, renamed: Mapping[str, Renamed]) -> Check:
    found = tuple(today(one, renamed) for one in check.postponed_by)
    return check if found == check.postponed_by else check.model_copy(update={"postponed_by": found})


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
