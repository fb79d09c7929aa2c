"""Papers that the shop makes for itself: the tag on an instrument in the workshop, the year in figures, and a sheet
that shows how its papers look. Arranges only.

No name and no way to reach anybody stands on a tag: it hangs where everybody sees it.
"""

from collections.abc import Sequence
from textwrap import wrap

from ..basis import show
from ..figures.asking import code
from ..figures.shapes import Figure, Label, Line, Shape
from ..figures.year import year_figure
from ..yearly.tables import YearTable
from .blocks import (
    Block,
    Column,
    Drawing,
    Heading,
    Lead,
    Listing,
    Paper,
    Paragraph,
    Signature,
    TableBlock,
    Together,
)

WIDTH, HEIGHT = 90.0, 55.0  # of a tag, in millimetres
SQUARE = 36.0
MARGIN = 5.0
MOST_LETTERS = 21
MOST_JOBS = 12
COLUMNS = (Column("Work", 0.75), Column("Price", 0.25, True))
ROWS = (("Fit a new bridge", "120.00"), ("Set the soundpost", "40.00"), ("Total", "160.00"))
MOST_ROWS = 20


def tag_paper(
    number: str, title: str, jobs: Sequence[str], ready_by: str | None, squares: Sequence[Sequence[bool]]
) -> Paper:
    """The tag to cut out, with the jobs below it. `squares`: the rows of the QR code; `ready_by` an ISO day."""
    figure = tag_figure(number, title, len(jobs), ready_by, squares)
    told = tuple(jobs[:MOST_JOBS])
    more = (Paragraph(f"And {len(jobs) - MOST_JOBS} more."),) if len(jobs) > MOST_JOBS else ()
    blocks = (Drawing(figure), Paragraph("Cut it out along the line, and hang it on.", "soft"), Listing(told), *more)
    return Paper(f"Tag {number}", "", f"Tag {number}", blocks)


def tag_figure(number: str, title: str, jobs: int, ready_by: str | None, squares: Sequence[Sequence[bool]]) -> Figure:
    """The tag itself: number, what it is, by when, and the code at its right."""
    words = [*wrap(title, MOST_LETTERS)[:2], f"{jobs} {'job' if jobs == 1 else 'jobs'}"]
    words += [f"ready by {show.day(ready_by)}"] if ready_by else []
    shapes: list[Shape] = [
        Line(0, 0, WIDTH, 0, "soft", 0.2, dashed=True),
        Line(0, HEIGHT, WIDTH, HEIGHT, "soft", 0.2, dashed=True),
        Line(0, 0, 0, HEIGHT, "soft", 0.2, dashed=True),
        Line(WIDTH, 0, WIDTH, HEIGHT, "soft", 0.2, dashed=True),
        Label(MARGIN, 14, number, 7.0, strong=True),
        *(Label(MARGIN, 24 + 7 * place, text, 4.0) for place, text in enumerate(words)),
        *code(squares, WIDTH - MARGIN - SQUARE, (HEIGHT - SQUARE) / 2, SQUARE),
    ]
    alt = f"Tag {number}: {', '.join(words)}, with a square code that opens the work order."
    return Figure(WIDTH, HEIGHT, tuple(shapes), alt)


def year_paper(tables: tuple[YearTable, ...], year: str, letterhead: str, lead: str) -> Paper:
    """All tables of a year; a long one is cut, and says so."""
    blocks: list[Block] = [Lead(lead)]
    for table in tables:
        blocks += _section(table)
    return Paper(f"The year {year}", letterhead, f"The year {year}", tuple(blocks))


def _section(table: YearTable) -> list[Block]:
    figure = year_figure(table)
    drawn = (Drawing(figure),) if figure is not None else ()
    found: list[Block] = [Together((Heading(table.title, room=0), Paragraph(table.say), *drawn))]
    if table.rows:
        share = 0.6 / (len(table.columns) - 1)
        columns = (Column(table.columns[0], 0.4), *(Column(one, share, figures=True) for one in table.columns[1:]))
        found.append(TableBlock(columns, table.rows[:MOST_ROWS]))
    if len(table.rows) > MOST_ROWS:
        found.append(Paragraph(f"The first {MOST_ROWS} of {len(table.rows)}; the CSV holds them all.", "soft"))
    return found


def preview_paper(letterhead: str, contact: Sequence[str], logo: bytes) -> Paper:
    """Head and foot of every page, a table with a total, and the lines to sign on; its figures are made up."""
    blocks = (
        Lead("This is how your papers look."),
        Paragraph("Made up to show the head, the logo, the table and the signature. It is no quote.", "strong"),
        Heading("A table", 2),
        TableBlock(COLUMNS, ROWS, totals=1),
        Signature(("For the workshop", "Agreed by", "Place and date")),
    )
    return Paper("Preview", letterhead, "A sheet to look at", blocks, tuple(contact), logo=logo)
