"""How a typed figure is read, for a page that shows it beside the field while it is typed.

The page asks here instead of reading by itself, so that there is one reader. A customer's page asks too, so this tells
nothing of the shop.
"""

from typing import get_args

from flask import Blueprint, request

from ..basis.problem import Problem
from ..basis.show import money
from ..basis.typed.kinds import Kind, Wanted, note, understand
from ..basis.typed.money import read_money
from .choosing.asked import MOST_LETTERS, sentence

understood = Blueprint("understood", __name__)
KINDS: tuple[Kind, ...] = get_args(Kind)


@understood.get("/understood.json")
def read() -> dict[str, str] | tuple[dict[str, str], int]:
    """`say`: how the text is read, empty where nobody could read it otherwise; or `wrong`: what is wrong with it."""
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
