"""Pictures on paper: the sheets of `evaluator.drawings`, which pages show as SVG, drawn by ReportLab in ink; reasons
beside each other; and photographs, three a row, each with its number and what it shows.
"""

from collections.abc import Sequence
from io import BytesIO

from reportlab.lib.colors import Color, HexColor
from reportlab.lib.units import mm
from reportlab.pdfgen.canvas import Canvas
from reportlab.platypus import Flowable, Spacer, TableStyle

from ...drawings.geometry.pen import LETTER, WIDTH, Fill, Mark, Point, Trace, Word
from ..blocks import Photo, PicturedRow, Reason, Sheet
from .fonts import SANS, SANS_BOLD, plain
from .setting import COLOURS, Place, Rule
from .tagged.canvas import canvas_of, write
from .tagged.flowing import Grid, Shown, Text, boxed
from .tagged.tree import Node

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
A_ROW = 3
HIGH_MM = 46.0
PHOTO_GAP = 10.0  # points
PHOTO_MM = 30.0  # height of a reason's photograph at most
REASON_MM = 34.0  # height of a reason's drawing at most


class SheetFlowable(Flowable):
    """The band of a sheet from its top on, as wide as `width_mm` (or its frame, if narrower)."""

    def __init__(self, sheet: Sheet, parent: Node, width_mm: float) -> None:
        super().__init__()
        self.shapes, self.top, self.high, self.width_mm = sheet.shapes, sheet.top, sheet.height, width_mm
        said = f"{sheet.judged}. {sheet.caption}" if sheet.judged else sheet.caption
        self.node = parent.add("Figure", alt=f"Drawing: {said}" if said else "Drawing of what was seen")
        self.factor = 1.0

    def wrap(self, available_width: float, _available_height: float) -> tuple[float, float]:
        self.width = min(self.width_mm * mm, available_width)
        self.factor = self.width / WIDTH
        self.height = self.high * self.factor
        return self.width, self.height

    def draw(self) -> None:
        canvas = canvas_of(self)
        self.node.box = boxed(self)
        with canvas.tagged(self.node):
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
        size = max(SMALLEST_PT, LETTER * self.factor)
        write(canvas, self._at((word.x, word.y)), word.text, SANS, size, word.anchor)


def pictured_table(rows: Sequence[PicturedRow], at: Place) -> Grid:
    """A row for each finding: words at the left, and its sheets with their captions beside each other."""
    sheet_width = CAPTION_MM * mm + GAP
    cells = [_finding(row, at.under("Div")) for row in rows]
    table = Grid(cells, colWidths=[at.width - 2 * sheet_width + GAP, sheet_width, sheet_width - GAP], splitInRow=0)
    rules: list[Rule] = [("VALIGN", (0, 0), (-1, -1), "TOP"), ("LINEBELOW", (0, 0), (-1, -1), 0.35, COLOURS["line"])]
    rules += [("LEFTPADDING", (0, 0), (-1, -1), 0), ("RIGHTPADDING", (0, 0), (-2, -1), GAP)]
    rules += [("RIGHTPADDING", (-1, 0), (-1, -1), 0)]
    table.setStyle(TableStyle([*rules, ("TOPPADDING", (0, 0), (-1, -1), 5), ("BOTTOMPADDING", (0, 0), (-1, -1), 6)]))
    return table


def reasons_table(reasons: Sequence[Reason], at: Place) -> Grid:
    """The reasons beside each other, drawings above, so that the words begin on one line; read one after another."""
    part = at.width / max(len(reasons), 2)
    drawn = any(one.sheet or one.photo for one in reasons)
    listed = at.node.add("L")
    bodies = [listed.add("LI").add("LBody") for _ in reasons]
    pairs = list(zip(reasons, bodies, strict=True))
    rows: list[list[Text] | list[list[Flowable]]] = (
        [[_reason_shown(one, body, part - GAP) for one, body in pairs]] if drawn else []
    )
    rows.append([Text(plain(one.text), at.styles["body"], body.add("P")) for one, body in pairs])
    table = Grid(rows, colWidths=[part] * len(reasons), hAlign="LEFT", spaceBefore=4, spaceAfter=4)
    rules: list[Rule] = [
        ("VALIGN", (0, 0), (-1, 0), "BOTTOM" if drawn else "TOP"),
        ("VALIGN", (0, -1), (-1, -1), "TOP"),
    ]
    rules += [("LEFTPADDING", (0, 0), (-1, -1), 0), ("RIGHTPADDING", (0, 0), (-1, -1), GAP)]
    table.setStyle(TableStyle([*rules, ("TOPPADDING", (0, 0), (-1, -1), 2), ("BOTTOMPADDING", (0, 0), (-1, -1), 2)]))
    return table


def _reason_shown(one: Reason, body: Node, room: float) -> list[Flowable]:
    """Its photograph, else its drawing."""
    if one.photo:
        shown = Shown(BytesIO(one.photo), kind="proportional", width=room, height=PHOTO_MM * mm)
        shown.hAlign, shown.node = "LEFT", body.add("Figure", alt=f"Photograph: {one.text}")
        return [shown]
    if one.sheet is None:
        return []
    return [SheetFlowable(one.sheet, body, min(WIDTH_MM, room / mm, REASON_MM * WIDTH / one.sheet.height))]


def _finding(row: PicturedRow, at: Place) -> list[list[Flowable]]:
    """Three cells: words, and two sheets; the last is empty where one sheet says it all."""
    words: list[Flowable] = [
        at.text(f"{row.number}&nbsp;&nbsp;{plain(row.title)}", "cell-total"),
        at.text(plain(row.cure), "soft"),
    ]
    return [words, *(_sheet(sheet, at) for sheet in row.sheets), *([] for _ in range(2 - len(row.sheets)))]


def _sheet(sheet: Sheet, at: Place) -> list[Flowable]:
    drawn = SheetFlowable(sheet, at.node, WIDTH_MM)
    return [drawn, Spacer(0, 2), at.text(_judged(sheet.judged) + plain(sheet.caption), "cell-head")]


def _judged(word: str) -> str:
    """Markup of "Right." or "Wrong." before a caption, in ink; nothing where neither is said."""
    return f'<font name="{SANS_BOLD}" color="#23201B">{word}.</font> ' if word else ""


def photos_table(photos: Sequence[Photo], at: Place) -> Grid:
    """The photos in rows, read one after another."""
    part = at.width / A_ROW
    cells = [_cell(photo, part - PHOTO_GAP, at.under("Div")) for photo in photos]
    cells += [[] for _ in range(-len(cells) % A_ROW)]
    rows = [cells[i : i + A_ROW] for i in range(0, len(cells), A_ROW)]
    table = Grid(rows, colWidths=[part] * A_ROW, splitInRow=0)
    edges: list[Rule] = [("VALIGN", (0, 0), (-1, -1), "TOP"), ("LEFTPADDING", (0, 0), (-1, -1), 0)]
    edges += [("RIGHTPADDING", (0, 0), (-1, -1), PHOTO_GAP), ("TOPPADDING", (0, 0), (-1, -1), 3)]
    table.setStyle(TableStyle([*edges, ("BOTTOMPADDING", (0, 0), (-1, -1), 6)]))
    return table


def _cell(photo: Photo, width: float, at: Place) -> list[Flowable]:
    numbered = f"<b>{photo.number}</b>&nbsp;&nbsp;" if photo.number else ""
    found: list[Flowable] = []
    if photo.content:
        shown = Shown(BytesIO(photo.content), kind="proportional", width=width, height=HIGH_MM * mm)
        shown.hAlign = "LEFT"
        shown.node = at.node.add("Figure", alt=f"Photograph: {photo.caption}")
        found += [shown, Spacer(0, 2)]
    said = at.text(numbered + plain(photo.caption), "cell-head")
    if photo.number:
        said.leads_to = f"finding-{photo.number}"
    return [*found, said]
