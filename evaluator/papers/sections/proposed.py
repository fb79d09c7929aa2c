"""The paper of proposed work, for somebody who owns the instrument: what was found, what is proposed for it and what
that costs, in at most three pages. Findings and work name each other. What only a buyer asks is not in it.
"""

from collections.abc import Callable, Sequence
from functools import partial

from ...result.model.result import Result
from ...result.model.score import Finding
from ...result.model.work import Line
from ...wording.answer.points import place_line
from ...wording.phrases import listed, small
from ...wording.words import believed, score_sentence, title
from ..blocks import Block, CautionBlock, Column, Heading, Paragraph, TableBlock
from .budget import ambitions, budget
from .condition import NO_CURE, findings, not_looked_at, noted
from .costs import times, work_answer, work_explained
from .frame import agreed, cautions, heading
from .front import how_good
from .measured import readings
from .parent import found_counted
from .pictured import pictured

Section = Callable[[Result], Sequence[Block]]
COLUMNS = (Column("", 0.07), Column("Finding", 0.56), Column("What we propose", 0.37))
STAYS = "It stays as it is"
FEW_EXTRAS = 4
MOST_FINDINGS = 15  # where nearly everything is wanting; the work is told whole, so that it adds up
ROOM = 30.0  # millimetres for a heading with the first rows


def found(result: Result) -> Sequence[Block]:
    """Every finding with the work that is proposed for it."""
    return findings(result, COLUMNS, partial(proposed_for, result))


def found_shortly(result: Result) -> Sequence[Block]:
    """The findings that work is proposed for, by their numbers; the others in one line each."""
    told = list(enumerate(believed(result), 1))
    if not told:
        return findings(result)
    lines = (*result.plan.lines, *result.optional)
    done = tuple(
        (str(number), title(item), proposed_for(result, item)) for number, item in told if jobs_for(lines, item)
    )
    left = [f"{number}. {small(title(item))}" for number, item in told if not jobs_for(lines, item)]
    blocks: list[Block] = [
        Heading("What was found", room=ROOM),
        *([TableBlock(COLUMNS, done, numbered=True)] if done else []),
    ]
    return [*blocks, Paragraph(f"Seen, and left as it is: {'; '.join(left)}.")] if left else blocks


def proposed_for(result: Result, item: Finding) -> str:
    """The work of this paper that cures a finding; else what becomes of it."""
    planned, optional = (jobs_for(lines, item) for lines in (result.plan.lines, result.optional))
    if planned:
        return listed(planned)
    if optional:
        return f"Not needed, but worth it: {small(listed(optional))}"
    return NO_CURE if item.inherent or not item.cures else STAYS


def jobs_for(lines: Sequence[Line], item: Finding) -> tuple[str, ...]:
    """What of these lines cures a finding, in words."""
    return tuple(times(line) for line in lines if item.check in line.cures)


def _good_shortly(result: Result) -> Sequence[Block]:
    return [Paragraph(" ".join(text for text in (score_sentence(result), place_line(result)) if text), "soft")]


def _cautions_of_the_work(result: Result) -> Sequence[Block]:
    """Those of the planned jobs alone: the last of the result stands by the signature."""
    told = tuple(dict.fromkeys(text for line in result.plan.lines for text in line.cautions))
    return [CautionBlock(told)] if told else []


_whole: tuple[Section, ...] = (
    heading,
    work_answer,
    found,
    noted,
    pictured,
    work_explained,
    ambitions,
    budget,
    how_good,
    readings,
    not_looked_at,
    cautions,
    agreed,
)
_usual: tuple[Section, ...] = (
    heading,
    work_answer,
    found,
    noted,
    partial(work_explained, most=FEW_EXTRAS),
    ambitions,
    _good_shortly,
    _cautions_of_the_work,
    agreed,
)
_pictured: tuple[Section, ...] = (
    heading,
    work_answer,
    found_shortly,
    pictured,
    partial(work_explained, most=FEW_EXTRAS, in_full=False),
    _good_shortly,
    _cautions_of_the_work,
    agreed,
)
_short: tuple[Section, ...] = (
    heading,
    work_answer,
    found_shortly,
    partial(work_explained, most=FEW_EXTRAS, in_full=False),
    _cautions_of_the_work,
    agreed,
)
_counted: tuple[Section, ...] = (
    heading,
    work_answer,
    partial(found_counted, most=MOST_FINDINGS),
    partial(work_explained, most=FEW_EXTRAS, in_full=False),
    _cautions_of_the_work,
    agreed,
)
LENGTHS: tuple[tuple[Section, ...], ...] = (_whole, _usual, _pictured, _short, _counted)
