"""What lies behind the first screen of a result: its sections in order, each with a line that says what it holds, so
that nobody opens one to find out. A section with nothing to tell is left out.
"""

from collections.abc import Callable, Iterator
from dataclasses import dataclass

from ...basis.show import minutes, money
from ...result.model.result import Result
from ..looks import differing, together_lines
from ..words import believed, title, unseen_by_part, waiting_lines
from . import purchase
from .prices import paid
from .verdict import words_of


@dataclass(frozen=True, slots=True)
class Fold:
    """A section by the last word of its address, its heading, and a line that says what it holds."""

    name: str
    title: str
    line: str


def folds(result: Result, *, draft: bool, uncounted: int, good: int) -> tuple[Fold, ...]:
    """The sections of a result. `uncounted`: how many answers are not counted; `good`: how many are good."""
    return tuple(Fold(name, TITLES[name], line) for name, line in _lines(result, draft, uncounted, good))


TITLES = {
    "uncounted": "Not counted yet",
    "next": "Look at these next",
    "found": "What was found",
    "together": "Who says what",
    "work": "Work and cost",
    "good": "All that is good",
    "made": "Made well, and set up well",
    "score": "The score",
    "measured": "Measured",
    "purchase": purchase.TITLE,
    "seller": "Ask and tell the seller",
    "reasons": "All the reasons",
    "unseen": "Not looked at",
    "cautions": "Caution",
    "why": "Why these figures",
}


def _lines(result: Result, draft: bool, uncounted: int, good: int) -> Iterator[tuple[str, str]]:
    told: dict[str, Callable[[Result], str | None]] = {
        "uncounted": lambda _: _counted(uncounted, "answer") if uncounted else None,
        "next": _next if draft else lambda _: None,
        "found": _found,
        "together": _together,
        "work": _work,
        "good": lambda _: f"{good} things" if good > 1 else None,
        "made": lambda _: "what money can change, and what not",
        "score": _score,
        "measured": _measured,
        "purchase": purchase.line,
        "seller": _seller,
        "reasons": lambda result: str(len(words_of(result).reasons)) if words_of(result).reasons else None,
        "unseen": _unseen,
        "cautions": lambda result: _counted(len(result.cautions), "line") if result.cautions else None,
        "why": lambda _: "answer by answer",
    }
    for name in TITLES:
        line = told[name](result)
        if line is not None:
            yield name, line


def _counted(count: int, what: str) -> str:
    return f"{count} {what}{'' if count == 1 else 's'}"


def _next(result: Result) -> str | None:
    looks = result.next_checks
    return f"{_counted(len(looks), 'look')}, {minutes(sum(one.minutes for one in looks))}" if looks else None


def _found(result: Result) -> str:
    waiting = f"; {len(waiting_lines(result))} to put right first" if waiting_lines(result) else ""
    found = (*(one for one in result.disqualifying if one.seen and one.level != "possible"), *believed(result))
    if not found:
        return f"nothing that needs work{waiting}"
    return f"{title(found[0])}{f', and {len(found) - 1} more' if len(found) > 1 else ''}{waiting}"


def _together(result: Result) -> str | None:
    count, differ = len(together_lines(result)), differing(result)
    return f"{_counted(count, 'look')} answered by two, {differ or 'none'} differing" if count else None


def _work(result: Result) -> str:
    plan = result.plan
    if not plan.lines:
        return "none is needed"
    return f"{_counted(len(plan.lines), 'job')}, about {money(round(paid(result)[0]), plan.currency)}"


def _score(result: Result) -> str:
    now, after = result.score.expected, result.score_after_work.expected
    if now is None or after is None:
        return "too little was seen for a number"
    if round(after) > round(now):
        return f"{now:.0f} of 100 as it stands, {after:.0f} after the work; where the points went"
    return f"{now:.0f} of 100, and where the points went"


def _measured(result: Result) -> str | None:
    readings = result.conformity.values()
    good = sum(1 for item in readings if item.statement == "meets")
    return f"{_counted(len(readings), 'reading')}, {good} as the standard wants" if readings else None


def _seller(result: Result) -> str | None:
    parts = [_counted(len(result.questions), "question")] if result.questions else []
    parts += ["what you could say"] if words_of(result).say_to_seller else []
    return ", ".join(parts) or None


def _unseen(result: Result) -> str | None:
    count = sum(len(items) for _, items in unseen_by_part(result))
    return _counted(count, "thing") if count else None
