"""Figures that a page asks for and that stand in its address: questions, what was typed, how it was read, and what is
wrong with it.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from flask import request

from ...basis.problem import Problem
from ...basis.typed.kinds import Kind, Wanted, note, understand
from ..service import service

MOST_LETTERS = 40


@dataclass(frozen=True, slots=True)
class Ask:
    """A figure that the page asks for: label, what stands there first, the most that makes sense, and its kind.

    `optional`: nothing may be written, and then it has no value.
    """

    name: str
    label: str
    first: str
    most: float = 1_000_000.0
    kind: Kind = "money"
    optional: bool = False


@dataclass(frozen=True, slots=True)
class Answers:
    """The figures, what was typed for each, how it was read where that is open to doubt, and a sentence for each that
    is none. Percent are of 100.
    """

    values: Mapping[str, float]
    typed: Mapping[str, str]
    wrong: Mapping[str, str]
    read: Mapping[str, str]
    currency: str


def answers_to(
    asks: Sequence[Ask],
    first: Mapping[str, str] | None = None,
    currency: str = "",
    given: Mapping[str, str] | None = None,
) -> Answers:
    """What the address (or what is `given`) says to each question, else what stands there first; money is the shop's
    or in the currency.
    """
    sent = request.args if given is None else given
    values, typed, wrong, read = {}, {}, {}, {}
    money = currency or service().shop.currency
    for ask in asks:
        start = (first or {}).get(ask.name, ask.first)
        text = typed[ask.name] = sent.get(ask.name, start).strip()[:MOST_LETTERS]
        if ask.optional and not text:
            continue
        found = understand(text, Wanted(ask.kind, most=ask.most, currency=money))
        if isinstance(found, Problem):
            wrong[ask.name] = sentence(found)
            continue
        values[ask.name] = found.value
        if said := note(text, found, ask.kind):
            read[ask.name] = said
    return Answers(values, typed, wrong, read, money)


def sentence(problem: Problem) -> str:
    """A mistake as it stands beside its field."""
    text = f"{problem.what} {problem.what_to_do}".strip()
    return text[:1].upper() + text[1:]
