"""From blocks to ReportLab's flowables: one builder for each kind of block."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from io import BytesIO
from itertools import repeat
from typing import Any

from reportlab.lib.pagesizes import A4, LETTER
from reportlab.lib.styles import ParagraphStyle
from reportlab.lib.units import mm
from reportlab.platypus import (
    CondPageBreak,
    Flowable,
    Image,
    KeepTogether,
    PageBreak,
    Paragraph,
    Spacer,
    Table,
    TableStyle,
)

from ...figures.rules import Figure
from .. import blocks as b
from .figures import FigureFlowable
from .fonts import SANS_ITALIC, plain
from .looks import look_table
from .setting import COLOURS, Setting
from .sheets import pictured_table, reasons_table

PAPERS = {"A4": A4, "Letter": LETTER}
GUTTER = 6 * mm  # between a figure and the blocks beside it
MOST_BESIDE = 0.6  # a figure and its gutter take at most this share of the width
CELL_PADDING = 12.0  # ReportLab's own, left and right together
LONG_TEXT = 1000  # letters; shorter text cannot make a row that high in any column of ours
TALLEST_ROW = 200 * mm  # a row higher than this is parted at the end of a page


@dataclass(frozen=True, slots=True)
class Place:
    """Where blocks are set: the width in points, and how."""

    width: float
    setting: Setting

    @property
    def styles(self) -> Mapping[str, ParagraphStyle]:
        return self.setting.styles


def _lead(block: b.Lead, at: Place) -> Sequence[Flowable]:
    return [Paragraph(plain(block.text), at.styles["lead"])]


def _heading(block: b.Heading, at: Place) -> Sequence[Flowable]:
    return [CondPageBreak(block.room * mm), Paragraph(plain(block.text), at.styles[f"h{block.level}"])]


def _paragraph(block: b.Paragraph, at: Place) -> Sequence[Flowable]:
    term = f' <font name="{SANS_ITALIC}" color="#5F584D">{plain(block.term)}</font>' if block.term else ""
    return [Paragraph(plain(block.text) + term, at.styles[block.kind])]


def _listing(block: b.Listing, at: Place) -> Sequence[Flowable]:
    marks = (str(n) for n in range(1, len(block.items) + 1)) if block.numbered else repeat("–")
    return [
        Paragraph(plain(text), at.styles["fine" if block.fine else "item"], bulletText=mark)
        for text, mark in zip(block.items, marks, strict=False)
    ]


LONGEST_CAUTION = 1200  # a rubric's text is no longer, so that each caution can stay whole on its page


def _caution(block: b.CautionBlock, at: Place) -> Sequence[Flowable]:
    head = Paragraph("Caution" if len(block.texts) == 1 else "Cautions", at.styles["strong"])
    rows = [[head], *([Paragraph(plain(text), at.styles["body"])] for text in block.texts)]
    endless = max(map(len, block.texts), default=0) > LONGEST_CAUTION
    table = Table(rows, colWidths=[at.width], spaceBefore=10, spaceAfter=4, splitInRow=int(endless))
    whole = [] if endless else [("NOSPLIT", (0, 0), (0, 1))]  # the word Caution never stands alone
    table.setStyle(
        TableStyle(
            [
                *whole,
                ("LINEBEFORE", (0, 0), (0, -1), 1.2, COLOURS["ink"]),
                ("LEFTPADDING", (0, 0), (-1, -1), 8),
                ("TOPPADDING", (0, 0), (-1, -1), 0),
                ("BOTTOMPADDING", (0, 0), (-1, -1), 1.5),
            ]
        )
    )
    return [table]


def _drawing(block: b.Drawing, _at: Place) -> Sequence[Flowable]:
    return [FigureFlowable(block.figure, block.caption)]


def _cell(text: b.Cell, column: b.Column, role: str, at: Place) -> Flowable:
    """A cell: a figure, or text whose lines after the first (parted by a line break) are softer."""
    if isinstance(text, Figure):
        return FigureFlowable(text)
    first, *rest = text.split("\n")
    markup = plain(first) + "".join(f'<br/><font size="8.5" color="#5F584D">{plain(line)}</font>' for line in rest)
    return Paragraph(markup, at.styles[f"{role}-figures" if column.figures else role])


def _table(block: b.TableBlock, at: Place) -> Sequence[Flowable]:
    head = [_cell(column.title, column, "cell-head", at) for column in block.columns]
    first_total = len(block.rows) - block.totals
    body = [
        [
            _cell(text, column, "cell-total" if i >= first_total else "cell", at)
            for text, column in zip(row, block.columns, strict=True)
        ]
        for i, row in enumerate(block.rows)
    ]
    widths = [column.share * at.width for column in block.columns]
    rules: list[Any] = [
        ("VALIGN", (0, 0), (-1, -1), "TOP"),
        ("LEFTPADDING", (0, 0), (0, -1), 0),
        ("RIGHTPADDING", (-1, 0), (-1, -1), 0),
        ("TOPPADDING", (0, 0), (-1, -1), at.setting.above),
        ("BOTTOMPADDING", (0, 0), (-1, -1), at.setting.below),
        ("LINEBELOW", (0, 0), (-1, 0), 0.6, COLOURS["ink"]),
        ("LINEBELOW", (0, 1), (-1, -1), 0.35, COLOURS["line"]),
    ]
    if block.totals:
        rules.append(("LINEABOVE", (0, first_total + 1), (-1, first_total + 1), 0.6, COLOURS["ink"]))
    # A row is parted only where it could not stand on a page; else its end would begin a page below a second head.
    long = [
        cell.wrap(share - CELL_PADDING, PAPERS["A4"][1])[1]
        for texts, row in zip(block.rows, body, strict=True)
        for text, cell, share in zip(texts, row, widths, strict=True)
        if isinstance(text, str) and len(text) > LONG_TEXT
    ]
    parted = int(max(long, default=0) > TALLEST_ROW)
    if block.totals and not parted and first_total:
        rules.append(("NOSPLIT", (0, first_total), (-1, -1)))  # a total keeps at least the last line that it adds up
    table = Table([head, *body], colWidths=widths, repeatRows=1, splitInRow=parted, spaceBefore=3, spaceAfter=8)
    table.setStyle(TableStyle(rules))
    return [table]


def _signature(block: b.Signature, at: Place) -> Sequence[Flowable]:
    part = at.width / len(block.labels)
    cells = [Paragraph(plain(label), at.styles["cell-head"]) for label in block.labels]
    table = Table([["" for _ in cells], cells], colWidths=[part] * len(cells), rowHeights=[26, None])
    lines = [("LINEBELOW", (i, 0), (i, 0), 0.6, COLOURS["ink"]) for i in range(len(cells))]
    table.setStyle(TableStyle([*lines, ("LEFTPADDING", (0, 0), (-1, -1), 0), ("RIGHTPADDING", (0, 0), (-1, -1), 14)]))
    return [Spacer(0, 10), table]


def _beside(block: b.Beside, at: Place) -> Sequence[Flowable]:
    """Figure at the left, blocks at the right; a figure wider than half the paper stands above them instead."""
    left = block.figure.width * mm + GUTTER
    if left > at.width * MOST_BESIDE:
        return [FigureFlowable(block.figure), *flowables(block.blocks, at)]
    right = replace(at, width=at.width - left)
    row = [[FigureFlowable(block.figure)], flowables(block.blocks, right)]
    table = Table([row], colWidths=[left, right.width], splitInRow=1)
    edges: list[Any] = [("VALIGN", (0, 0), (-1, -1), "TOP")]
    edges += [(side, (0, 0), (-1, -1), 0) for side in ("LEFTPADDING", "RIGHTPADDING", "TOPPADDING", "BOTTOMPADDING")]
    table.setStyle(TableStyle(edges))
    return [table]


def _picture(block: b.Picture, _at: Place) -> Sequence[Flowable]:
    shown = Image(BytesIO(block.content), kind="proportional", width=block.width * mm, height=block.height * mm)
    shown.hAlign = "LEFT"
    return [shown, Spacer(0, 4)]


def _pictured(block: b.Pictured, at: Place) -> Sequence[Flowable]:
    return [pictured_table(block.rows, at.width, at.styles)]


def _reasons(block: b.Reasons, at: Place) -> Sequence[Flowable]:
    return [reasons_table(block.reasons, at.width, at.styles)]


def _next_page(_block: b.NextPage, _at: Place) -> Sequence[Flowable]:
    return [PageBreak()]


def _together(block: b.Together, at: Place) -> Sequence[Flowable]:
    """One KeepTogether; ReportLab takes one inside another for endlessly high, so inner ones are laid open."""
    inner = flowables(block.blocks, at)
    return [KeepTogether([one for child in inner for one in getattr(child, "_content", [child])])]


def _taken_look(block: b.TakenLook, at: Place) -> Sequence[Flowable]:
    return [look_table(block, at.width, at.styles)]


_BUILD: Mapping[type, Any] = {
    b.Lead: _lead,
    b.Heading: _heading,
    b.Paragraph: _paragraph,
    b.Listing: _listing,
    b.CautionBlock: _caution,
    b.Drawing: _drawing,
    b.TableBlock: _table,
    b.Signature: _signature,
    b.Beside: _beside,
    b.Picture: _picture,
    b.Pictured: _pictured,
    b.TakenLook: _taken_look,
    b.Reasons: _reasons,
    b.NextPage: _next_page,
    b.Together: _together,
}


def flowables(blocks: Sequence[b.Block], at: Place) -> list[Flowable]:
    """ReportLab's flowables for the blocks, in order."""
    return [flowable for block in blocks for flowable in _BUILD[type(block)](block, at)]
