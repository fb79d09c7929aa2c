"""Parts of another grade on a draft: the same work with a plainer or a better part, its price reckoned anew.

Only the parts of a line change; its labour stays as it is. Nothing that was offered is touched.
"""

from collections.abc import Mapping
from dataclasses import replace

from ..basis.money import money_of
from ..basis.problem import Message, Messages, Problem, problem
from ..estimate.pert import cost
from .quote import STATE_WORDS, Quote, QuoteLine, ceiling_of
from .quote_parts import GradePrice, QuotePart

Wanted = Mapping[tuple[str, str], str]  # (job, part) -> grade
MESSAGES: Messages = {
    "quote.grade_late": Message(
        "it is {state}, and its parts stay as they are.", "Make a changed quote, which takes its place when offered."
    ),
    "quote.grade_unknown": Message("“{part}” is not listed as {grade}.", "Choose one of the grades shown."),
}


def with_grades(quote: Quote, wanted: Wanted) -> Quote | tuple[Problem, ...]:
    """The draft with these grades, priced anew with its ceiling; or all that speaks against it."""
    where = f"quote {quote.number}"
    if quote.state != "draft":
        return (problem(MESSAGES, "quote.grade_late", where, state=STATE_WORDS[quote.state]),)
    known = {(line.job, part.part): part for line in quote.lines for part in line.used if part.choices}
    wrong = tuple(
        problem(MESSAGES, "quote.grade_unknown", where, part=known[key].say if key in known else key[1], grade=grade)
        for key, grade in wanted.items()
        if key not in known or known[key].price(grade) is None
    )
    if wrong:
        return wrong
    lines = tuple(_line(line, wanted, quote.terms.currency) for line in quote.lines)
    priced = replace(quote, lines=lines)
    return replace(priced, ceiling=ceiling_of(priced))


def _line(line: QuoteLine, wanted: Wanted, currency: str) -> QuoteLine:
    for place, part in enumerate(line.used):
        new = part.price(wanted.get((line.job, part.part), part.grade))
        if new is not None and new.grade != part.grade:
            line = _fitted(line, place, part, new, currency)
    return line


def _fitted(line: QuoteLine, place: int, old: QuotePart, new: GradePrice, currency: str) -> QuoteLine:
    """The line with the part at `place` in the new grade: its range moves by the difference of the two."""
    before = old.price(old.grade)
    assert before is not None, "a part with choices is listed in its own grade"
    points = (getattr(line.cost, key) - getattr(before, key) + getattr(new, key) for key in ("low", "likely", "high"))
    priced = cost(*points)
    used = (*line.used[:place], replace(old, grade=new.grade), *line.used[place + 1 :])
    whole = money_of(priced.mean, currency)
    names = tuple(part.named for part in used)
    return replace(line, used=used, parts_named=names, cost=priced, parts=whole - line.labour)
