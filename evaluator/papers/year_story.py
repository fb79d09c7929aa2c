"""The year on one paper: each finding as a sentence, its plot and its table. Arranges only."""

from ..figures.year import year_figure
from ..yearly.tables import YearTable
from .blocks import Block, Column, Drawing, Heading, Lead, Paper, Paragraph, TableBlock, Together

MOST_ROWS = 20


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
