"""Numbers that a page asks for and that stand in its address: questions, what was typed, and what is wrong with it."""

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from flask import request

from ...basis.typed.quantities import without_groups

_NUMBER = re.compile(r"\d{1,7}(\.\d{1,3})?")


@dataclass(frozen=True, slots=True)
class Ask:
    """A number that the page asks for: label, what stands there first, and the most that makes sense."""

    name: str
    label: str
    first: str
    most: float = 1_000_000.0


@dataclass(frozen=True, slots=True)
class Answers:
    """The numbers, what was typed for each, and a sentence for each that is none."""

    values: Mapping[str, float]
    typed: Mapping[str, str]
    wrong: Mapping[str, str]


def answers_to(asks: Sequence[Ask], first: Mapping[str, str] | None = None) -> Answers:
    """What the address says to each question, else what stands there first."""
    values, typed, wrong = {}, {}, {}
    for ask in asks:
        start = (first or {}).get(ask.name, ask.first)
        text = request.args.get(ask.name, start).strip()[:20]
        typed[ask.name] = text
        bare = without_groups(text).replace(",", ".")
        if _NUMBER.fullmatch(bare) and float(bare) <= ask.most:
            values[ask.name] = float(bare)
        else:
            wrong[ask.name] = f'"{text}" is not a number from 0 to {ask.most:,.0f}.'
    return Answers(values, typed, wrong)
