"""What the pages of a quote show and read: one row a line with the effect of a no, the totals, typed answers."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date, datetime
from decimal import Decimal

from ...basis.money import Money
from ...basis.problem import Message, Messages, Problem, problem
from ...basis.typed.hours import read_hours
from ...basis.typed.money import read_money
from ...quoting.answers import (
    GROUPS,
    Answer,
    Answers,
    Totals,
    all_yes,
    deposit,
    effect_of_no,
    standing,
    three_totals,
    totals,
)
from ...quoting.quote import Group, Quote, QuoteLine
from ...wording.quotes import GROUP_WORDS, different, group_title, named, once_for, shortly, total_title

MESSAGES: Messages = {
    "quote.time": Message("“{typed}” is no day and time.", "Write it like 2026-03-04 15:30."),
    "quote.ahead": Message("that time has not come yet.", "Write when it was said."),
    "quote.before": Message("that was before the quote was made.", "Write when it was said."),
    "quote.noted_meanwhile": Message(
        "somebody noted {now} meanwhile, and you typed {typed}.", "Save again if yours is right."
    ),
    "quote.hours_missing": Message("no hours are noted for: {jobs}.", "Note them; then the work can be called done."),
}
ANSWERS: Mapping[Answer, str] = {"yes": "Yes", "no": "No", "later": "Later"}


@dataclass(frozen=True, slots=True)
class Row:
    """A line on a page, with the effect of a no in short sentences.

    `stays`: the shared labour that a no does not take off the bill; `lacks`: what it needs and was not agreed, where it
    has a yes and cannot be done; `follows`: the job that it goes with.
    """

    line: QuoteLine
    answer: Answer | None
    stands: bool
    effect: tuple[str, ...]
    stays: tuple[str, ...]
    saves: Money | None
    lacks: str | None
    follows: str | None


@dataclass(frozen=True, slots=True)
class Sheet:
    """All that a page of a quote shows: rows by group, shared labour, and what the answers come to."""

    quote: Quote
    answers: Answers
    groups: tuple[tuple[str, tuple[Row, ...]], ...]
    shared: tuple[Row, ...]
    chosen: Totals | None
    count: int
    standing: tuple[QuoteLine, ...]
    fallen: tuple[tuple[str, str], ...]
    deposit: Money
    three: tuple[tuple[str, str, Totals], ...]


def sheet(quote: Quote, answers: Answers) -> Sheet:
    """The quote under these answers; effects are reckoned as if all were wanted where nothing is answered yet,
    and for a line that cannot be done as answered now."""
    stand = standing(quote, answers)
    base = answers or all_yes(quote)
    rows = [_row(quote, line, answers, base, line in stand) for line in quote.lines]
    asked = [row for row in rows if not row.line.shared]
    groups = ((group_title(quote, group), tuple(r for r in asked if r.line.group == group)) for group in GROUP_WORDS)
    chosen = totals(quote, stand) if stand else None
    found = three_totals(quote)
    return Sheet(
        quote=quote,
        answers=answers,
        groups=tuple((title, found) for title, found in groups if found),
        shared=tuple(row for row in rows if row.line.shared),
        chosen=chosen,
        count=sum(not line.shared for line in stand),
        standing=stand,
        fallen=tuple((row.line.say, row.lacks) for row in asked if row.lacks),
        deposit=deposit(quote, chosen.total) if chosen else Money(Decimal("0.00"), quote.terms.currency),
        three=tuple((name, total_title(quote, name), found[name]) for name in different(found)),
    )


def answers_for(quote: Quote, name: str) -> dict[str, Answer]:
    """Yes to the lines of one of the three totals, later to all others."""
    groups: tuple[Group, ...] = dict(GROUPS)[name]
    return {line.job: "yes" if line.group in groups else "later" for line in quote.lines if not line.shared}


def typed_answers(quote: Quote, form: Mapping[str, str]) -> dict[str, Answer]:
    """The answers of a sent form, in the order of the quote."""
    found: dict[str, Answer] = {}
    for line in quote.lines:
        for word in ANSWERS:
            if form.get(f"a-{line.job}") == word and not line.shared:
                found[line.job] = word
    return found


def typed_amount(text: str, currency: str) -> Money | Problem | None:
    """What was typed as the ceiling; None where nothing is typed."""
    return read_money(text, currency, "Ceiling") if text.strip() else None


def typed_time(text: str, now: str, made_on: date) -> datetime | Problem:
    """When a yes was said, in the offset of `now`; now where nothing is typed."""
    present = datetime.fromisoformat(now)
    try:
        said = datetime.fromisoformat(text.strip()) if text.strip() else present
    except ValueError:
        return problem(MESSAGES, "quote.time", "When", typed=text.strip()[:40])
    said = said if said.tzinfo else said.replace(tzinfo=present.tzinfo)
    if said > present:
        return problem(MESSAGES, "quote.ahead", "When")
    return problem(MESSAGES, "quote.before", "When") if said.date() < made_on else said


def typed_hours(text: str, job: str) -> float | Problem | None:
    """What was typed as the hours of a job, above 0; None where nothing is typed."""
    return read_hours(text, job, above=True) if text.strip() else None


def level(quote: Quote, answers: Answers) -> Money | None:
    """The ceiling where none was typed, as the page showed: what four of five such orders stay under."""
    found = standing(quote, answers)
    return totals(quote, found).up_to if found else None


def told(problems: tuple[Problem, ...]) -> tuple[str, ...]:
    """Each problem as one or two sentences for a page."""
    sentences = []
    for one in problems:
        what = f"{one.where}: {one.what}" if one.where else one.what
        sentences.append(f"{what[:1].upper()}{what[1:]} {one.what_to_do}".strip())
    return tuple(sentences)


def _row(quote: Quote, line: QuoteLine, answers: Answers, base: Answers, stands: bool) -> Row:
    if line.shared:
        once = once_for(quote, line, answers)
        return Row(line, None, stands, (once,) if once else (), (), None, None, None)
    wanted = {**base, line.job: "yes"}
    if line not in standing(quote, wanted):
        wanted = dict(all_yes(quote))
    effect = effect_of_no(quote, wanted, line.job)
    said = [f"If it is left: {shortly(line.if_left)}."] if line.if_left else []
    back = [one.say for one in quote.lines if one.is_credit and one.say in effect.falls]
    falls = [say for say in effect.falls if say not in back]
    said += [f"This falls away with it: {named(falls)}."] if falls else []
    said += ["What was agreed first is done instead."] if back else []
    stays = tuple(f"“{labour}” stays on the bill, for {named(who)}." for labour, who in effect.stays)
    forced = quote.line(line.forced_by) if line.forced_by else None
    lacks = _lacking(quote, line, answers) if answers.get(line.job) == "yes" and not stands else None
    saves = effect.saves if effect.saves.amount else None
    return Row(line, answers.get(line.job), stands, tuple(said), stays, saves, lacks, forced.say if forced else None)


def _lacking(quote: Quote, line: QuoteLine, answers: Answers) -> str:
    """What the line cannot be done without and has no yes; a job that itself lacks something where all have one."""
    needed = [options for options in line.asks if any(quote.line(job) for job in options)]
    if line.forced_by and quote.line(line.forced_by):
        needed.append((line.forced_by,))
    without = [options for options in needed if not any(answers.get(job) == "yes" for job in options)]
    found = [one.say for options in (without or needed) for job in options if (one := quote.line(job))]
    return named(tuple(dict.fromkeys(found)))
