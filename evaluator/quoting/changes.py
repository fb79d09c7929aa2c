"""The changes that a workshop makes to a draft, and the draft with all of them.

A draft as reckoned is never touched: the changes are laid over it one after the other, so taking the last one back
needs no memory of what was before. A change to a line that a newer draft no longer has is passed over.
"""

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Literal

from ..basis.money import Money
from ..basis.problem import Message, Messages, Problem, problem
from ..estimate.model import Cost
from ..estimate.pert import cost
from .answers import all_yes, effect_of_no
from .lines import with_grades
from .quote import STATE_WORDS, Group, LeftOut, Listed, Quote, QuoteLine, ceiling_of

Kind = Literal["set", "add", "leave", "grades"]
MESSAGES: Messages = {
    "edit.late": Message(
        "it is {state}, and its lines stay as they are.", "Make a changed quote, which takes its place when offered."
    ),
    "edit.no_line": Message("this line is not on it any more.", "Look at the quote again."),
    "edit.no_words": Message("a line has no words.", "Write what is done."),
    "edit.no_price": Message(
        "a line of your own has no price.", "Write what the work or the part costs; 0 is a price."
    ),
    "edit.no_reason": Message("nothing says why it is left out.", "Write it in a few words; it stands on the quote."),
    "edit.last_line": Message("it would have no line left.", "Add another first, or withdraw the quote."),
    "edit.there": Message("“{say}” is on it already.", "Change its line, or its number."),
    "edit.meanwhile": Message("somebody changed this line a moment ago.", "Look at it, then change it again."),
    "edit.nothing": Message("nothing differs from what it says.", "Change something, then save."),
}


@dataclass(frozen=True, slots=True)
class Change:
    """One change. `job` is the line; of `set` each value that is not None takes the place of the line's.

    `lines`: what `add` brings, as priced then (of a line that is there, what takes its place); `alone`: `leave` takes
    nothing else along; `grades`: (job, part, grade). `by`, `at`: who and when (ISO time).
    """

    kind: Kind
    job: str
    say: str | None = None
    hours: float | None = None
    labour: Money | None = None
    parts: Money | None = None
    group: Group | None = None
    reason: str | None = None
    lines: tuple[QuoteLine, ...] = ()
    alone: bool = False
    grades: tuple[tuple[str, str, str], ...] = ()
    by: str = ""
    at: str = ""


def changed(quote: Quote, changes: Iterable[Change]) -> Quote:
    """The draft with the changes laid over it, and its ceiling anew."""
    for change in changes:
        quote = _LAID[change.kind](quote, change)
    return replace(quote, ceiling=ceiling_of(quote))


def wrong_change(quote: Quote, change: Change) -> Problem | None:
    """What speaks against this change of the draft as it is now."""
    where = f"quote {quote.number}"
    if quote.state != "draft":
        return problem(MESSAGES, "edit.late", where, state=STATE_WORDS[quote.state])
    line = quote.line(change.job)
    if change.kind in ("set", "leave") and line is None:
        return problem(MESSAGES, "edit.no_line", where)
    if change.kind == "set" and change.say is not None and not change.say.strip():
        return problem(MESSAGES, "edit.no_words", where)
    if change.kind == "leave":
        left = _left(quote, change)
        if not (change.reason or "").strip():
            return problem(MESSAGES, "edit.no_reason", where)
        return problem(MESSAGES, "edit.last_line", where) if not any(not one.shared for one in left.lines) else None
    if change.kind == "add" and not change.alone and line is not None:
        return problem(MESSAGES, "edit.there", where, say=line.say)
    return None


def falls_with(quote: Quote, job: str) -> tuple[QuoteLine, ...]:
    """The lines that cannot stay without this one: what needs it and what only followed from it."""
    effect = effect_of_no(quote, all_yes(quote), job)
    return tuple(line for line in quote.lines if line.say in effect.falls and line.job != job)


def free_line(
    place: int, say: str, labour: Money, parts: Money, group: Group, hours: float = 0.0, because: str = ""
) -> QuoteLine:
    """A line of the workshop's own, of no catalogue; its price is fixed."""
    amount = float((labour + parts).amount)
    why = (because,) if because else ()
    return QuoteLine(
        job=f"own_{place}",
        say=say,
        plain="",
        shared=False,
        group=group,
        urgency="to_standard" if group == "required" else "recommended",
        because=why,
        forced_by=None,
        labour=labour,
        parts=parts,
        cost=cost(amount, amount, amount),
        hours_likely=hours,
        free=True,
    )


def _set(quote: Quote, change: Change) -> Quote:
    lines = tuple(_line(line, change) if line.job == change.job else line for line in quote.lines)
    return replace(quote, lines=lines)


def _line(line: QuoteLine, change: Change) -> QuoteLine:
    """The line with what differs; other hours at the same rate where no price is given for them."""
    hours = line.hours_likely if change.hours is None else change.hours
    labour = line.labour if change.labour is None else change.labour
    if change.labour is None and change.hours is not None and line.hours_likely > 0:
        labour = line.labour.times(change.hours / line.hours_likely).rounded()
    parts = line.parts if change.parts is None else change.parts
    listed = line.listed or Listed(line.say, line.hours_likely, line.labour, line.parts)
    return replace(
        line,
        say=line.say if change.say is None else change.say.strip(),
        hours_likely=hours,
        labour=labour,
        parts=parts,
        cost=_moved(line.cost, labour + parts) if labour + parts != line.price else line.cost,
        group=change.group or line.group,
        because=(*line.because, change.reason) if change.reason else line.because,
        listed=None if line.free else listed,
        used=() if change.parts is not None else line.used,
    )


def _moved(before: Cost, price: Money) -> Cost:
    """The range with this mean, as wide in its shape as before; a fixed price where there was none to stretch."""
    new = float(price.amount)
    if before.mean <= 0:
        return cost(new, new, new)
    factor = new / before.mean
    return Cost(before.low * factor, before.likely * factor, before.high * factor, new, before.sd * factor)


def _add(quote: Quote, change: Change) -> Quote:
    """With the new lines: jobs before the shared labour; one that is there already gives way only where it is meant."""
    new = {line.job: line for line in change.lines}
    kept = [new.pop(line.job) if line.job == change.job and line.job in new else line for line in quote.lines]
    have = {line.job for line in kept}
    fresh = [line for line in change.lines if line.job in new and line.job not in have]
    jobs = [line for line in (*kept, *fresh) if not line.shared]
    left = tuple(one for one in quote.left_out if one.job not in {line.job for line in fresh})
    return replace(quote, lines=(*jobs, *(line for line in (*kept, *fresh) if line.shared)), left_out=left)


def _leave(quote: Quote, change: Change) -> Quote:
    return _left(quote, change) if quote.line(change.job) else quote


def _left(quote: Quote, change: Change) -> Quote:
    line = quote.line(change.job)
    assert line is not None, "only a line that is there is left out"
    falling = () if change.alone or line.shared else falls_with(quote, change.job)
    gone = {change.job, *(one.job for one in falling)}
    kept = [_without(one, gone) for one in quote.lines if one.job not in gone]
    asked = {name for one in kept for options in one.labours for name in options}
    lines = tuple(one for one in kept if not one.shared or one.is_credit or one.job in asked)
    told = LeftOut(line.job, line.say, (change.reason or "").strip(), tuple(one.say for one in falling))
    return replace(quote, lines=lines, left_out=(*quote.left_out, told))


def _without(line: QuoteLine, gone: set[str]) -> QuoteLine:
    """A line that stays although what it asked for was left out: it asks for that no more."""
    asks = tuple(options for options in line.asks if not gone.intersection(options))
    labours = tuple(options for options in line.labours if not gone.intersection(options))
    forced = None if line.forced_by in gone else line.forced_by
    return replace(line, asks=asks, labours=labours, forced_by=forced)


def _graded(quote: Quote, change: Change) -> Quote:
    here = {(line.job, part.part) for line in quote.lines for part in line.used}
    wanted = {(job, part): grade for job, part, grade in change.grades if (job, part) in here}
    made = with_grades(replace(quote, state="draft"), wanted)
    return replace(made, state=quote.state) if isinstance(made, Quote) else quote


_LAID: Mapping[Kind, Callable[[Quote, Change], Quote]] = {
    "set": _set,
    "add": _add,
    "leave": _leave,
    "grades": _graded,
}


def own_place(changes: Sequence[Change]) -> int:
    """The number of the next line of one's own."""
    places = [int(line.job.removeprefix("own_")) for one in changes for line in one.lines if line.free]
    return max(places, default=0) + 1
