"""From a result to a paper's blocks, for each reader. Arranges and words; computes no figure."""

import hashlib
import json
from collections.abc import Callable, Iterator, Mapping, Sequence

from ..figures.asking import code_figure
from ..result.json_form import result_json
from ..result.model.result import Result
from ..result.shown import in_shown
from ..wording.answer.verdict import with_words
from .blocks import Beside, Block, Paper, Paragraph, Reasons, Together
from .readers import TITLES, Issued
from .sections import proposed
from .sections.budget import ambitions, budget
from .sections.by_part import by_part, circumstances, filed, not_seen, numbers, since
from .sections.condition import causes, findings, looks, not_looked_at, noted, purchase, questions
from .sections.costs import work, work_in_short
from .sections.frame import cautions, domains, heading, signed, stop_signs, waiting
from .sections.front import COVERED_FOR, covered, front, how_good
from .sections.measured import readings, sources
from .sections.parent import second_page
from .sections.photographs import identity, photographed, photographs
from .sections.pictured import pictured
from .sections.taken_apart import SHORT, all_points, points, points_table, price

Section = Callable[[Result], Sequence[Block]]

BUYER: tuple[Section, ...] = (
    front,
    stop_signs,
    waiting,
    points,
    price,
    domains,
    causes,
    findings,
    noted,
    pictured,
    purchase,
    work_in_short,
    not_looked_at,
    looks,
    questions,
    cautions,
    signed,
)
SHOP: tuple[Section, ...] = (
    front,
    stop_signs,
    waiting,
    points,
    price,
    domains,
    causes,
    findings,
    noted,
    readings,
    purchase,
    work,
    ambitions,
    budget,
    not_looked_at,
    looks,
    cautions,
    signed,
)
ANNEX: tuple[Section, ...] = (
    heading,
    how_good,
    all_points,
    domains,
    causes,
    readings,
    sources,
    not_looked_at,
    signed,
)
CONDITION: tuple[Section, ...] = (heading, circumstances, by_part, readings, not_seen, filed)
SECTIONS: Mapping[str, tuple[Section, ...]] = {
    "buyer": BUYER,
    "shop": SHOP,
    "annex": ANNEX,
    "condition": CONDITION,
}
READERS = tuple(TITLES)
# Who reads the whole evaluation anyway. A condition report and an owner's estimate carry no file: advice to a buyer and
# the value would be in it.
CARRYING = frozenset({"parent", "buyer", "shop", "annex"})
CODE_MM = 20.0
LENGTHS = (9, 8, 7, 6, 5, 4, 3, 2)  # findings and jobs told one by one on a parent's second page


def paper(result: Result, reader: str, issued: Issued | None = None) -> Paper:
    """The paper for a reader, as long as it can be; raises KeyError for another reader."""
    return next(papers(result, reader, issued))


def papers(result: Result, reader: str, issued: Issued | None = None) -> Iterator[Paper]:
    """The paper for a reader, then shorter ones where it must hold in so many pages; KeyError for another reader."""
    title, sections = TITLES[reader], SECTIONS.get(reader, ())
    name = result.title or "Evaluation"
    letterhead = "" if result.shop.is_default else result.shop.name
    attached = carried(result) if reader in CARRYING else b""
    result = in_shown(result, issued.units) if issued else result

    def made(blocks: Sequence[Block]) -> Paper:
        if issued is not None:
            blocks = [photographed(one, issued.pictures) if isinstance(one, Reasons) else one for one in blocks]
        if issued is not None and reader in COVERED_FOR:
            blocks = covered(blocks, issued.covering)
        head, *rest = [*blocks, *_live(issued)]
        if issued is None:
            return Paper(title, letterhead, name, tuple(blocks), attached=attached)
        known = Paragraph(issued.line, "strong" if issued.draft else "soft")
        contact = issued.contact if letterhead else ()
        foot = f"{name}, {issued.name}"
        return Paper(title, letterhead, foot, (head, known, *rest), contact, issued.day, attached, issued.logo)

    if reader == "parent":
        first = (*front(result), *points_table(result, SHORT))
        for most in LENGTHS:
            yield made((*first, *second_page(result, most)))
    elif reader == "customer":
        for shorter in proposed.LENGTHS:
            yield made([block for section in shorter for block in (*_shown(result, section, issued), *section(result))])
    else:
        yield made([block for section in sections for block in (*_shown(result, section, issued), *section(result))])


def _shown(result: Result, section: Section, issued: Issued | None) -> Sequence[Block]:
    """Which one it is, and the photographs, before the section that closes a paper; a condition report begins with the
    first and with what changed since last time, and has its own numbers of findings.
    """
    if section is by_part:
        return [*identity(issued), *since(result, issued)]
    if issued is None or section not in (cautions, not_seen):
        return []
    which = identity(issued) if section is cautions else []
    told = None if section is cautions else numbers(result)
    return [*which, *photographs(result, issued.pictures, told)]


def _live(issued: Issued | None) -> Sequence[Block]:
    """The code that leads to the newest version, where others can reach it."""
    if issued is None or not issued.squares:
        return []
    said = Paragraph(f"The newest version, for whoever may see it: {issued.page}", "soft")
    return [Together((Beside(code_figure(issued.squares, CODE_MM, issued.page), (said,)),))]


def carried(result: Result) -> bytes:
    """The result as the file that a paper carries, with the decision in words as `score --json` has it."""
    return json.dumps(
        result_json(with_words(result)), ensure_ascii=False, allow_nan=False, separators=(",", ":")
    ).encode()


def issued_from_file(result: Result, today: str) -> Issued:
    """How a paper of an evaluation file is named: by what is in it, and by the day of the last look (else `today`).

    Equal results have equal numbers, so that two papers can be told to be of one evaluation.
    """
    days = [answer.at[:10] for check in result.checks for answer in check.observations if answer.at]
    return Issued(hashlib.sha256(carried(result)).hexdigest()[:8], None, max(days, default=today), draft=False)


def typed_in(result: Result) -> str:
    """What people typed that a paper shows: the title, what is known of it, notes and names."""
    told = [result.title, result.instrument.about]
    for check in result.checks:
        told += [text for answer in check.observations for text in (answer.note, answer.by)]
    return " ".join(told)
