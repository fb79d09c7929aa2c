"""How far the work may go: the three levels of ambition in words, and what score each sum buys."""

from collections.abc import Sequence
from dataclasses import replace
from typing import NamedTuple

from ...figures.money import budget_figure
from ...result.model.result import Result
from ...result.model.work import Ambition, Budget, BudgetStep, NamedJob
from ...wording.answer.prices import budget_paid, is_taxed, level_price
from ...wording.phrases import listed, points, small
from ..blocks import Beside, Block, Column, Heading, Paragraph, TableBlock, Together
from .frame import money

LEVELS = (Column("How far", 0.2), Column("What is done", 0.46), Column("From – to", 0.2, True))
ABOUT = Column("About", 0.14, True)
STEPS = (Column("Step, and what it adds", 0.68), Column("Money", 0.18, True), Column("Score", 0.14, True))
FIGURE = 70.0, 64.0  # width and height in millimetres; the steps stand beside it
MOST_STEPS = 7  # on paper, with the one that does nothing: what stands beside the figure without being taller
NOTE = "From – to holds nine of ten orders."
STEPS_NOTE = "Each step is the best score that its money can buy, by mean prices"
SAYS = {"safe": "Safe to play", "standard": "Up to the standard", "recommended": "With all that is recommended"}


class Level(NamedTuple):
    """One level of ambition in words: its name, what is done, its price from – to, and the likely one."""

    say: str
    work: str
    span: str
    likely: str


def levels(result: Result) -> tuple[Level, ...]:
    """The three levels, each told from the one before; none where no level asks for any work."""
    found = result.ambitions
    if not any(one.jobs for one in found):
        return ()
    rows = []
    before: list[str] = []
    for one in found:
        jobs = [job.job for job in one.jobs]
        work = _told(one, before)
        low, about, high = (money(result, amount) for amount in level_price(result, one))
        rows.append(Level(SAYS[one.name], work, f"{low} – {high}" if jobs else "–", about))
        before = jobs
    return tuple(rows)


def _told(level: Ambition, before: Sequence[str]) -> str:
    """What is done at this level, told from the one before where it holds all of that."""
    jobs = [job.job for job in level.jobs]
    new = [job.say for job in level.jobs if job.job not in before]
    if not jobs:
        return "No work, as far as was seen" if level.name == "safe" else "No more, as far as was seen"
    if not before or not set(before) <= set(jobs):
        return listed([job.say for job in level.jobs])
    if not new:
        return "The same work"
    return f"That, and: {small(listed(new))}"


def ambitions(result: Result) -> Sequence[Block]:
    """The three levels as a small table."""
    rows = levels(result)
    if not rows:
        return []
    table = TableBlock((*LEVELS, ABOUT), tuple(rows))
    return [
        Together(
            (
                Heading("How far to go", 2, room=0),
                table,
                Paragraph(f"{NOTE}{' With tax.' if is_taxed(result) else ''}", "soft"),
            )
        )
    ]


def budget_sentence(result: Result) -> str:
    """What work can bring for how much, and from where on more money buys little; empty where it brings nothing."""
    found = budget_paid(result)
    if found is None or found.enough is None:
        return ""
    steps, enough = found.steps, found.enough
    first, last = steps[0], steps[-1]
    ends = points([step.score for step in (first, steps[enough], last)])
    if enough == len(steps) - 1:
        return f"{money(result, last.cost)} can bring it from {ends[0]} to {ends[2]}."
    return (
        f"{money(result, steps[enough].cost)} can bring it from {ends[0]} to {ends[1]}, "
        f"{money(result, last.cost)} to {ends[2]}."
    )


def steps_note(result: Result) -> str:
    """What a step of the curve is, and that tax is in it where there is any."""
    return f"{STEPS_NOTE}{', with tax' if is_taxed(result) else ''}."


def step_words(step: BudgetStep) -> tuple[str, str]:
    """What a step adds, and what it does in the place of; the latter may be empty."""
    added = listed([job.say for job in step.adds])
    gone = [job.say for job in step.drops]
    return added or "Nothing is done", f"In the place of: {small(listed(gone))}." if gone else ""


def in_short(budget: Budget, most: int = MOST_STEPS) -> Budget:
    """The same curve with at most so many steps: first, last, the one that is enough, and those that gain most."""
    steps, enough = list(budget.steps), budget.enough
    kept = list(range(len(steps)))
    while len(kept) > most:
        inner = [i for i in range(1, len(kept) - 1) if kept[i] != enough]
        kept.pop(min(inner, key=lambda i: steps[kept[i]].score - steps[kept[i - 1]].score))
    shown: list[BudgetStep] = []
    shown_before: list[NamedJob] = []
    done: list[NamedJob] = []
    for number, step in enumerate(steps):
        done = [*(job for job in done if job not in step.drops), *step.adds]
        if number in kept:
            pairs = ((done, shown_before), (shown_before, done))
            adds, drops = ([job for job in some if job not in others] for some, others in pairs)
            shown.append(replace(step, adds=tuple(adds), drops=tuple(drops)))
            shown_before = done
    return Budget(steps=tuple(shown), enough=None if enough is None else kept.index(enough))


def budget(result: Result) -> Sequence[Block]:
    """The curve with its steps in a table; nothing where work gains nothing or one step is all there is."""
    whole = budget_paid(result)
    if whole is None or len(whole.steps) < 3:
        return []
    found = in_short(whole)
    figure = budget_figure(found, result.plan.currency, *FIGURE)
    assert figure is not None, "there are steps to draw"
    table = TableBlock(STEPS, tuple(_row(result, number, step) for number, step in enumerate(found.steps)))
    told = Paragraph(f"{budget_sentence(result)} {steps_note(result)}")
    return [Together((Heading("What each sum buys", 2, room=0), told, Beside(figure, (table,))))]


def _row(result: Result, number: int, step: BudgetStep) -> tuple[str, str, str]:
    added, instead = step_words(step)
    text = f"{number}. {added}" if number else added
    return f"{text}\n{instead}" if instead else text, money(result, step.cost), f"{step.score:.1f}"
