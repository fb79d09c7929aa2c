"""Figures that a page asks for: the questions, what was typed, how it was read, and what is wrong with it; also while
it is typed, as the page asks here instead of reading by itself, so that there is one reader.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from typing import get_args

from flask import Blueprint, request

from ..basis.problem import Problem
from ..basis.show import money
from ..basis.typed.days import days_of
from ..basis.typed.kinds import Kind, Wanted, note, understand
from ..basis.typed.money import read_money
from .service import service

understood = Blueprint("understood", __name__)
KINDS: tuple[Kind, ...] = get_args(Kind)
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


def day_typed(text: str) -> date | Problem:
    """A typed day, today where nothing is typed."""
    found = days_of(text) if text.strip() else (service().today(),)
    if len(found) != 1:
        said = f"“{text[:40]}” is no day." if not found else f"“{text[:40]}” can be two days."
        return Problem("pay.day", "Day", said, "Write it like 2026-03-31.")
    return found[0]


def sentence(problem: Problem) -> str:
    """A mistake as it stands beside its field."""
    text = f"{problem.what} {problem.what_to_do}".strip()
    return text[:1].upper() + text[1:]


@understood.get("/understood.json")
def read() -> dict[str, str] | tuple[dict[str, str], int]:
    """`say`: how the text is read, empty where nobody could read it otherwise; or `wrong`: what is wrong with it. A
    customer's page asks too, so this tells nothing of the shop.
    """
    text, kind = request.args.get("text", "")[:MOST_LETTERS], _kind()
    if kind is None:
        return {"wrong": f"Say what the text is: kind={' or '.join(KINDS)}."}, 422
    if not text.strip():
        return {"say": ""}
    wanted = Wanted(
        kind,
        _number("least", 0.0),
        _number("most", 1e9),
        request.args.get("currency", "USD")[:3],
        request.args.get("above") == "yes",
    )
    found = understand(text, wanted)
    return {"wrong": sentence(found)} if isinstance(found, Problem) else {"say": note(text, found, kind)}


def asked_price(text: str, currency: str) -> str:
    """'$1,450' for a typed price, as it was understood; as it was typed where nobody can read it."""
    found = read_money(text, currency)
    return f"{text} {currency}" if isinstance(found, Problem) else money(found.amount, currency)


def _kind() -> Kind | None:
    return next((one for one in KINDS if one == request.args.get("kind")), None)


def _number(name: str, otherwise: float) -> float:
    """A bound as our own page wrote it; one that is none is no bound of ours."""
    try:
        return min(1e9, max(-1e9, float(request.args.get(name, otherwise))))
    except ValueError:
        return otherwise
