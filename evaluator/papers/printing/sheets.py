"""Drawings on paper: the sheets of `evaluator.drawings`, which pages show as SVG, drawn by ReportLab in ink."""

from collections.abc import Mapping, Sequence
from typing import Any

from reportlab.lib.colors import Color, HexColor
from reportlab.lib.styles import ParagraphStyle
from reportlab.lib.units import mm
from reportlab.pdfgen.canvas import Canvas
from reportlab.platypus import Flowable, Paragraph, Spacer, Table, TableStyle

from ...drawings.geometry.pen import LETTER, WIDTH, Fill, Mark, Point, Shape, Trace, Word
from ..blocks import PicturedRow, Reason, Sheet
from .fonts import SANS, SANS_BOLD, drawable, plain
from .setting import COLOURS

INKS: dict[Mark, Color] = {
    "ink": COLOURS["ink"],
    "thin": COLOURS["soft"],
    "hidden": COLOURS["soft"],
    "guide": COLOURS["soft"],
    "look": COLOURS["accent"],
    "bare": COLOURS["ink"],
}
# Points on paper, whatever the size of the sheet; what is looked at is drawn boldest, so that grey paper shows it too.
WEIGHTS: dict[Mark, float] = {"ink": 0.8, "thin": 0.35, "hidden": 0.4, "guide": 0.35, "look": 1.3, "bare": 0.0}
DASHES: dict[Mark, tuple[float, ...]] = {"hidden": (2.0, 1.4), "guide": (0.8, 1.2)}
FILLS: dict[Fill, Color] = {
    "tint": COLOURS["tint"],
    "shade": COLOURS["line"],
    "sheet": COLOURS["sheet"],
    "ink": COLOURS["ink"],
    "dark": HexColor("#4A423A"),
    "look": HexColor("#E4C9BD"),
}
WIDTH_MM = 40.0  # of a sheet
CAPTION_MM = 51.0  # its caption may be wider, so that it takes two lines
GAP = 12.0  # between two, in points
SMALLEST_PT = 6.5  # letters on a sheet stay readable however small it is drawn


class SheetFlowable(Flowable):
    """The band of a sheet from `top` on, `height` units high, as wide as `width_mm` (or its frame, if narrower)."""

    def __init__(self, shapes: tuple[Shape, ...], top: float, height: float, width_mm: float) -> None:
        super().__init__()
        self.shapes, self.top, self.high, self.width_mm = shapes, top, height, width_mm
        self.factor = 1.0

    def wrap(self, available_width: float, _available_height: float) -> tuple[float, float]:
        self.width = min(self.width_mm * mm, available_width)
        self.factor = self.width / WIDTH
        self.height = self.high * self.factor
        return self.width, self.height

    def draw(self) -> None:
        canvas: Canvas = self.canv
        canvas.saveState()
        canvas.setLineCap(1)
        canvas.setLineJoin(1)
        for shape in self.shapes:
            if isinstance(shape, Word):
                self._word(canvas, shape)
            else:
                self._trace(canvas, shape)
        canvas.restoreState()

    def _at(self, point: Point) -> Point:
        return point[0] * self.factor, self.height - (point[1] - self.top) * self.factor

    def _trace(self, canvas: Canvas, trace: Trace) -> None:
        path = canvas.beginPath()
        path.moveTo(*self._at(trace.start))
        for step in trace.steps:
            ends = [value for i in range(0, len(step), 2) for value in self._at((step[i], step[i + 1]))]
            if len(ends) == 2:
                path.lineTo(*ends)
            else:
                path.curveTo(*ends)
        if trace.closed:
            path.close()
        weight = WEIGHTS[trace.mark]
        canvas.setStrokeColor(INKS[trace.mark])
        canvas.setLineWidth(weight)
        canvas.setDash(DASHES.get(trace.mark, ()))
        if trace.fill:
            canvas.setFillColor(FILLS[trace.fill])
        canvas.drawPath(path, stroke=int(weight > 0), fill=int(trace.fill is not None))

    def _word(self, canvas: Canvas, word: Word) -> None:
        canvas.setFillColor(INKS[word.mark])
        canvas.setFont(SANS, max(SMALLEST_PT, LETTER * self.factor))
        write = {"start": canvas.drawString, "middle": canvas.drawCentredString, "end": canvas.drawRightString}
        write[word.anchor](*self._at((word.x, word.y)), drawable(word.text))


def pictured_table(rows: Sequence[PicturedRow], width: float, styles: Mapping[str, ParagraphStyle]) -> Table:
    """A row for each finding: words at the left, and its sheets with their captions beside each other."""
    sheet_width = CAPTION_MM * mm + GAP
    cells = [[_words(row, styles), *_sheets(row.sheets, styles)] for row in rows]
    table = Table(cells, colWidths=[width - 2 * sheet_width + GAP, sheet_width, sheet_width - GAP], splitInRow=0)
    rules: list[Any] = [("VALIGN", (0, 0), (-1, -1), "TOP"), ("LINEBELOW", (0, 0), (-1, -1), 0.35, COLOURS["line"])]
    rules += [("LEFTPADDING", (0, 0), (-1, -1), 0), ("RIGHTPADDING", (0, 0), (-2, -1), GAP)]
    rules += [("RIGHTPADDING", (-1, 0), (-1, -1), 0)]
    table.setStyle(TableStyle([*rules, ("TOPPADDING", (0, 0), (-1, -1), 5), ("BOTTOMPADDING", (0, 0), (-1, -1), 6)]))
    return table


REASON_MM = 34.0  # height of a reason's drawing at most


def reasons_table(reasons: Sequence[Reason], width: float, styles: Mapping[str, ParagraphStyle]) -> Table:
    """The reasons beside each other, drawings above, so that the words begin on one line."""
    part = width / max(len(reasons), 2)
    drawn = any(one.sheet for one in reasons)
    rows: list[list[Any]] = [[_reason_sheet(one.sheet, part - GAP) for one in reasons]] if drawn else []
    rows.append([Paragraph(plain(one.text), styles["body"]) for one in reasons])
    table = Table(rows, colWidths=[part] * len(reasons), hAlign="LEFT", spaceBefore=4, spaceAfter=4)
    rules: list[Any] = [("VALIGN", (0, 0), (-1, 0), "BOTTOM" if drawn else "TOP"), ("VALIGN", (0, -1), (-1, -1), "TOP")]
    rules += [("LEFTPADDING", (0, 0), (-1, -1), 0), ("RIGHTPADDING", (0, 0), (-1, -1), GAP)]
    table.setStyle(TableStyle([*rules, ("TOPPADDING", (0, 0), (-1, -1), 2), ("BOTTOMPADDING", (0, 0), (-1, -1), 2)]))
    return table


def _reason_sheet(sheet: Sheet | None, room: float) -> list[Flowable]:
    if sheet is None:
        return []
    high = min(WIDTH_MM, room / mm, REASON_MM * WIDTH / sheet.height)
    return [SheetFlowable(sheet.shapes, sheet.top, sheet.height, high)]


def _words(row: PicturedRow, styles: Mapping[str, ParagraphStyle]) -> list[Flowable]:
    return [
        Paragraph(f"{row.number}&nbsp;&nbsp;{plain(row.title)}", styles["cell-total"]),
        Paragraph(plain(row.cure), styles["soft"]),
    ]


def _sheets(sheets: Sequence[Sheet], styles: Mapping[str, ParagraphStyle]) -> list[list[Flowable]]:
    """Two cells; the second is empty where one sheet says it all."""
    cells: list[list[Flowable]] = [
        [
            SheetFlowable(sheet.shapes, sheet.top, sheet.height, WIDTH_MM),
            Spacer(0, 2),
            Paragraph(_judged(sheet.judged) + plain(sheet.caption), styles["cell-head"]),
        ]
        for sheet in sheets
    ]
    return [*cells, *([] for _ in range(2 - len(cells)))]


def _judged(word: str) -> str:
    """Markup of "Right." or "Wrong." before a caption, in ink; nothing where neither is said."""
    return f'<font name="{SANS_BOLD}" color="#23201B">{word}.</font> ' if word else ""
