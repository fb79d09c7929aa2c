"""Every reading on a rule with its standard, its doubt and what may be said of it; and the sources of the standards."""

from collections.abc import Iterable, Sequence

from ...basis import show
from ...figures.readings import slim_rule, standard_words
from ...result.model.result import Result
from ...result.model.score import Measured
from ...wording.names import STATEMENTS
from ...wording.phrases import capital, small
from ...wording.reasons import settle_words
from ...wording.words import subject
from ..blocks import Block, Cell, Column, Heading, Listing, Paragraph, TableBlock

COLUMNS = (
    Column("Measured", 0.26),
    Column("", 0.28),
    Column("Reading", 0.15, True),
    Column("Standard", 0.18, True),
    Column("Meets it?", 0.13),
)
OUTSIDE = ("does_not", "probably_not")
QUESTION = "outside a standard that is itself uncertain, so this is a question for the luthier and no fault."
MOST_NAMED = 6  # readings named with one source; the rest is counted
NOTE = "Shaded: the standard. Upright: the reading; the band round it is its doubt, twice the standard uncertainty."


def readings(result: Result) -> Sequence[Block]:
    """One row a reading; below, once, what would settle what cannot be told, and what only a doubtful standard says."""
    items = tuple(result.conformity.values())
    if not items:
        return []
    blocks: list[Block] = [Heading("Measured"), Paragraph(NOTE, "soft"), TableBlock(COLUMNS, tuple(map(_row, items)))]
    settled = _grouped((settle_words(item.settle), item) for item in items if item.settle)
    told = [f"{capital(', '.join(names))}: {small(text)}." for text, names in settled.items()]
    asked = [small(subject(item)) for item in items if item.confidence == "low" and item.statement in OUTSIDE]
    if asked:
        told.append(f"{capital(', '.join(asked))}: {QUESTION}")
    if told:
        blocks.append(Listing(tuple(told)))
    return blocks


def _row(item: Measured) -> tuple[Cell, ...]:
    value, doubt, low, high = item.value, item.standard_uncertainty, item.low, item.high
    text = show.doubtful(value, doubt, item.unit)
    figure: Cell = "" if low is None and high is None else slim_rule(value, doubt, low, high, text)
    return subject(item), figure, text, standard_words(low, high, item.unit), STATEMENTS[item.statement].short


def sources(result: Result) -> Sequence[Block]:
    """The sources of the standards used with the readings they were used for; those of the same readings together."""
    pairs = ((source, item) for item in result.conformity.values() for source in item.sources)
    together: dict[tuple[str, ...], list[str]] = {}
    for source, names in _grouped(pairs).items():
        together.setdefault(tuple(names), []).append(source.rstrip("."))
    lines = tuple(f"{capital('; '.join(named))}: {_shortly(names)}." for names, named in together.items())
    return [Heading("Sources of the standards", 2, room=25), Listing(lines, fine=True)] if lines else []


def _shortly(names: Sequence[str]) -> str:
    more = len(names) - MOST_NAMED
    return ", ".join(names) if more <= 1 else f"{', '.join(names[:MOST_NAMED])} and {more} more"


def _grouped(pairs: Iterable[tuple[str, Measured]]) -> dict[str, list[str]]:
    found: dict[str, list[str]] = {}
    for text, item in pairs:
        found.setdefault(text, []).append(small(subject(item)))
    return found
