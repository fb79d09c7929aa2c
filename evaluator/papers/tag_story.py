"""A tag that hangs on the instrument while it is in the workshop: what it is, by when, and a square for its order.

No name and no way to reach anybody stands on it: it hangs where everybody sees it.
"""

from collections.abc import Sequence
from textwrap import wrap

from ..basis import show
from ..figures.code import code
from ..figures.shapes import Figure, Label, Line, Shape
from .blocks import Drawing, Listing, Paper, Paragraph

WIDTH, HEIGHT = 90.0, 55.0
SQUARE = 36.0
MARGIN = 5.0
MOST_LETTERS = 21
MOST_JOBS = 12


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
