"""Papers as PDF: draws the blocks of `story` with ReportLab on A4 or Letter, in the look of the papers.

All text passes `fonts.plain`, so that nothing a user typed is ever read as markup. Equal results give equal bytes.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from io import BytesIO
from itertools import repeat
from typing import Any

from reportlab.lib.pagesizes import A4, LETTER
from reportlab.lib.styles import ParagraphStyle
from reportlab.lib.units import mm
from reportlab.pdfgen.canvas import Canvas
from reportlab.platypus import (
    BaseDocTemplate,
    CondPageBreak,
    Flowable,
    Frame,
    Image,
    KeepTogether,
    PageTemplate,
    Paragraph,
    Spacer,
    Table,
    TableStyle,
)

from ...figures.rules import Anchor, Box, Curve, Dot, Figure, Label, Line
from ...result.model.result import Result
from .. import blocks as b
from ..story import paper as paper_of
from .fonts import SANS, SANS_BOLD, SANS_ITALIC, SERIF, drawable, plain, register
from .setting import COLOURS, ROOMY, TIGHT, TIGHTEST, Setting
from .sheets import pictured_table

PAPERS = {"A4": A4, "Letter": LETTER}
MARGIN = 18 * mm
FOOT = 10 * mm
GUTTER = 6 * mm  # between a figure and the blocks beside it
MOST_BESIDE = 0.6  # a figure and its gutter take at most this share of the width
CELL_PADDING = 12.0  # ReportLab's own, left and right together
LONG_TEXT = 1000  # letters; shorter text cannot make a row that high in any column of ours
TALLEST_ROW = 200 * mm  # a row higher than this is parted at the end of a page
COUNT_FORM = "page-count"
NEARLY_EMPTY = 0.6  # of a page, its margin at the top counted


@dataclass(frozen=True, slots=True)
class Place:
    """Where blocks are set: the width in points, and how."""

    width: float
    setting: Setting

    @property
    def styles(self) -> Mapping[str, ParagraphStyle]:
        return self.setting.styles


class FigureFlowable(Flowable):
    """A figure of shapes, shrunk when the frame is narrower than it."""

    def __init__(self, figure: Figure, caption: str | None = None) -> None:
        super().__init__()
        self.figure = figure
        self.caption = caption
        self.factor = 1.0
        self.spaceBefore, self.spaceAfter = 3, 5

    def wrap(self, available_width: float, _available_height: float) -> tuple[float, float]:
        self.factor = min(1.0, available_width / (self.figure.width * mm))
        self.width = self.figure.width * mm * self.factor
        self.height = self.figure.height * mm * self.factor + (12 if self.caption else 0)
        return self.width, self.height

    def draw(self) -> None:
        canvas: Canvas = self.canv
        canvas.saveState()
        canvas.translate(0, self.height)
        canvas.scale(mm * self.factor, -mm * self.factor)
        for shape in self.figure.shapes:
            _DRAW[type(shape)](canvas, shape)
        canvas.restoreState()
        if self.caption:
            canvas.setFont(SANS, 8.5)
            canvas.setFillColor(COLOURS["soft"])
            canvas.drawString(0, 2, drawable(self.caption))


def _draw_line(canvas: Canvas, s: Line) -> None:
    canvas.setStrokeColor(COLOURS[s.role])
    canvas.setLineWidth(s.width)
    canvas.setDash((1.6, 1.2) if s.dashed else ())
    canvas.line(s.x1, s.y1, s.x2, s.y2)


def _draw_box(canvas: Canvas, s: Box) -> None:
    canvas.setFillColor(COLOURS[s.role], alpha=s.opacity)
    canvas.rect(s.x, s.y, s.width, s.height, stroke=0, fill=1)
    canvas.setFillAlpha(1)


def _draw_dot(canvas: Canvas, s: Dot) -> None:
    canvas.setLineWidth(0.35)
    canvas.setStrokeColor(COLOURS[s.role])
    canvas.setFillColor(COLOURS[s.role])
    canvas.circle(s.x, s.y, s.radius, stroke=int(not s.filled), fill=int(s.filled))


def _draw_curve(canvas: Canvas, s: Curve) -> None:
    path = canvas.beginPath()
    path.moveTo(*s.start)
    for segment in s.segments:
        path.curveTo(*segment)
    canvas.setStrokeColor(COLOURS[s.role])
    canvas.setLineWidth(s.width)
    canvas.setDash(())
    if s.fill:
        canvas.setFillColor(COLOURS[s.fill])
    canvas.drawPath(path, stroke=1, fill=int(s.fill is not None))


def _draw_label(canvas: Canvas, s: Label) -> None:
    font = SANS_BOLD if s.strong else SANS
    text = drawable(s.text)
    shift: Mapping[Anchor, float] = {"start": 0.0, "middle": 0.5, "end": 1.0}
    canvas.saveState()
    canvas.translate(s.x - shift[s.anchor] * canvas.stringWidth(text, font, s.size), s.y)
    canvas.scale(1, -1)
    canvas.setFillColor(COLOURS[s.role])
    canvas.setFont(font, s.size)
    canvas.drawString(0, 0, text)
    canvas.restoreState()


_DRAW: Mapping[type, Any] = {
    Line: _draw_line,
    Box: _draw_box,
    Dot: _draw_dot,
    Curve: _draw_curve,
    Label: _draw_label,
}


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
    table.setStyle(
        TableStyle(
            [
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


def _together(block: b.Together, at: Place) -> Sequence[Flowable]:
    """One KeepTogether; ReportLab takes one inside another for endlessly high, so inner ones are laid open."""
    inner = flowables(block.blocks, at)
    return [KeepTogether([one for child in inner for one in getattr(child, "_content", [child])])]


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
    b.Together: _together,
}


def flowables(blocks: Sequence[b.Block], at: Place) -> list[Flowable]:
    """ReportLab's flowables for the blocks, in order."""
    return [flowable for block in blocks for flowable in _BUILD[type(block)](block, at)]


class PageCount(Flowable):
    """The last flowable: it writes the number of pages into the form that the foot of every page shows.

    Once drawn, it knows that number and how far down its page it stands, as a share of the page.
    """

    width = height = 0.0
    pages = 0
    filled = 1.0

    def __init__(self, page_height: float) -> None:
        super().__init__()
        self.page_height = page_height

    def draw(self) -> None:
        self.pages = self.canv.getPageNumber()
        self.filled = 1 - self.canv.absolutePosition(0, 0)[1] / self.page_height
        self.canv.beginForm(COUNT_FORM)
        self.canv.setFillColor(COLOURS["soft"])
        self.canv.setFont(SANS, 8.5)
        self.canv.drawString(0, 0, str(self.canv.getPageNumber()))
        self.canv.endForm()


def _draw_edges(canvas: Canvas, page: tuple[float, float], foot: str, letterhead: str) -> None:
    """Letterhead above and 'page 2 of 4' below; the count is a form that `PageCount` fills at the end."""
    width, height = page
    canvas.setFillColor(COLOURS["soft"])
    canvas.setFont(SANS, 8.5)
    canvas.drawString(MARGIN, FOOT, foot)
    canvas.drawRightString(width - MARGIN - 11, FOOT, f"page {canvas.getPageNumber()} of")
    canvas.saveState()
    canvas.translate(width - MARGIN - 9, FOOT)
    canvas.doForm(COUNT_FORM)
    canvas.restoreState()
    canvas.setFont(SERIF, 9.5)
    canvas.drawString(MARGIN, height - 11 * mm, letterhead)


def draw(paper: b.Paper, size: str = "A4") -> bytes:
    """The paper as PDF bytes; the same paper gives the same bytes.

    Set a little tighter where the last page would otherwise be nearly empty and that saves the page.
    """
    register()
    pdf, end = laid_out(paper, size, ROOMY)
    for setting in (TIGHT, TIGHTEST):
        if end.pages > 1 and end.filled < NEARLY_EMPTY:
            tighter, other = laid_out(paper, size, setting)
            if other.pages < end.pages:
                pdf, end = tighter, other
    return pdf


def laid_out(paper: b.Paper, size: str, setting: Setting) -> tuple[bytes, PageCount]:
    """The PDF in one setting, and where it ended."""
    page = PAPERS[size]
    letterhead = f"{paper.letterhead}  ·  {paper.title}" if paper.letterhead else paper.title
    out = BytesIO()
    document = BaseDocTemplate(
        out,
        pagesize=page,
        title=f"{paper.foot}: {paper.title}",
        author=paper.letterhead or None,
        subject="Evaluation of a bowed instrument",
        lang="en",
        invariant=1,
        displayDocTitle=1,
    )
    width, height = page
    frame = Frame(MARGIN, MARGIN, width - 2 * MARGIN, height - 2 * MARGIN, 0, 0, 0, 0)

    def edges(canvas: Canvas, _document: BaseDocTemplate) -> None:
        _draw_edges(canvas, page, drawable(paper.foot)[:90], drawable(letterhead))

    document.addPageTemplates([PageTemplate(frames=[frame], onPage=edges)])
    end = PageCount(height)
    document.build([*flowables(paper.blocks, Place(width - 2 * MARGIN, setting)), end])
    return out.getvalue(), end


def report_pdf(result: Result, reader: str = "buyer", paper: str = "A4") -> bytes:
    """The PDF of a result for a `reader` (buyer, shop, customer) on `paper` (A4, Letter)."""
    return draw(paper_of(result, reader), paper)
