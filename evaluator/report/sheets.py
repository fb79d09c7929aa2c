"""Drawings on paper: the sheets of `evaluator.drawings`, which pages show as SVG, drawn by ReportLab in ink."""

from reportlab.lib.colors import Color, HexColor
from reportlab.lib.units import mm
from reportlab.pdfgen.canvas import Canvas
from reportlab.platypus import Flowable

from ..drawings.pen import LETTER, WIDTH, Fill, Mark, Point, Shape, Trace, Word
from .fonts import SANS, drawable
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
