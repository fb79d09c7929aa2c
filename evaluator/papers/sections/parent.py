"""The second of the two pages for a parent: what was found, the work, what to ask, what to be careful of.

How many findings and jobs are told one by one is for whoever sets the page to choose, so that it holds in one; the rest
is counted, and stands in the full edition.
"""

from collections.abc import Mapping, Sequence
from decimal import Decimal

from ...basis import show
from ...figures.mapping.map import Spot, mapped
from ...result.model.result import Result
from ...result.model.work import Line
from ...wording.answer import purchase as risks
from ...wording.answer.first_screen import is_over
from ...wording.names import LEVELS
from ...wording.words import believed, no_findings, title
from ..blocks import Beside, Block, CautionBlock, Column, Heading, Listing, NextPage, Paragraph, TableBlock, Together
from .condition import NO_CURE
from .costs import numbers_of, price_of, sums_of, times
from .frame import money

FINDINGS = (Column("", 0.08), Column("Finding", 0.92))
WORK = (Column("Work", 0.66), Column("Finding", 0.16), Column("About", 0.18, True))
MOST_ASKED = 4


def second_page(result: Result, most: int) -> Sequence[Block]:
    """`most`: findings and jobs told one by one."""
    return [
        NextPage(),
        *found_counted(result, most),
        *work_counted(result, most),
        *_purchase(result, most),
        *_ask(result, min(MOST_ASKED, most)),
        *_cautions(result),
    ]


def found_counted(result: Result, most: int) -> Sequence[Block]:
    """The weightiest findings, the rest counted."""
    found = believed(result)
    if not found:
        return [Heading("What was found"), Paragraph(no_findings(result))]
    spots = [Spot(number, item.check, item.part) for number, item in enumerate(found[:most], 1)]
    rows = tuple(
        (str(number), f"{title(item)} ({LEVELS[item.level]}){f'. {NO_CURE}.' if item.inherent else ''}")
        for number, item in enumerate(found[:most], 1)
    )
    more = len(found) - most
    told: list[Block] = [TableBlock(FINDINGS, rows)]
    told += [Paragraph(f"And {more} more, in the full edition.", "soft")] if more > 0 else []
    drawn = mapped(spots, result.instrument.family, 0.55, views=("front",))
    blocks = told if drawn is None else [Beside(drawn, tuple(told))]
    return [Together((Heading("What was found", room=0), *blocks))]


def work_counted(result: Result, most: int) -> Sequence[Block]:
    """The dearest jobs, the rest in one row, and the same sums as everywhere."""
    lines = sorted(result.plan.lines, key=lambda line: -line.mean)
    if not lines:
        return []
    numbers = numbers_of(result)
    shown, rest = (lines[:most], lines[most:]) if len(lines) > most + 1 else (lines, [])
    rows = [(times(line), _numbers(line, numbers, most), price_of(result, line, False)) for line in shown]
    rows += [(f"{len(rest)} smaller jobs", "", _together(result, rest))] if rest else []
    sums = sums_of(result, False)
    table = TableBlock(WORK, (*rows, *((say, "", amount) for say, amount in sums)), totals=len(sums))
    return [Together((Heading("The work", room=0), table))]


def _numbers(line: Line, numbers: Mapping[str, int], most: int) -> str:
    return ", ".join(
        str(number) for number in sorted(numbers[one] for one in line.cures if one in numbers) if number <= most
    )


def _together(result: Result, lines: Sequence[Line]) -> str:
    return money(result, float(sum((Decimal(line.price or round(line.mean, 2)) for line in lines), Decimal(0))))


def _purchase(result: Result, most: int) -> Sequence[Block]:
    """What stops the purchase or is a risk of it, apart from the instrument."""
    told = tuple(risks.title(one) for one in result.purchase if one.level in ("stops", "great"))[:most]
    return [Together((Heading(risks.TITLE, 2, room=0), Listing(told)))] if told else []


def _ask(result: Result, most: int) -> Sequence[Block]:
    """What to look at and to ask before any money goes over the counter."""
    if is_over(result):
        return []
    looks = tuple(f"{look.ask} ({show.minutes(look.minutes)})" for look in result.next_checks[:most])
    if result.purpose != "quote" and result.questions:
        asked: list[Block] = [
            Heading("Ask the seller", 2, room=0),
            Listing(tuple(result.questions[:most]), numbered=True),
        ]
    else:
        asked = []
    told: list[Block] = [Heading("Look at these next", 2, room=0), Listing(looks, numbered=True)] if looks else []
    return [Together(tuple(part)) for part in (told, asked) if part]


def _cautions(result: Result) -> Sequence[Block]:
    """Those of the planned work, and what the paper is no proof of; in full size."""
    texts = [text for line in result.plan.lines for text in line.cautions]
    texts += result.cautions[-1:]
    return [CautionBlock(tuple(dict.fromkeys(texts)))] if texts else []
