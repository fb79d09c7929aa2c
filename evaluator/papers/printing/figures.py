"""Figures of shapes on paper: one flowable that draws lines, boxes, dots, curves and labels in millimetres."""

from collections.abc import Callable, Mapping

from reportlab.lib.units import mm
from reportlab.pdfgen.canvas import Canvas
from reportlab.platypus import Flowable

from ...figures.shapes import Box, Curve, Dot, Figure, Label, Line
from .fonts import SANS, SANS_BOLD
from .setting import COLOURS
from .tagged.canvas import canvas_of, write
from .tagged.flowing import boxed
from .tagged.tree import Node


class FigureFlowable(Flowable):
    """A figure of shapes under a node of its own, shrunk when the frame is narrower than it."""

    def __init__(self, figure: Figure, parent: Node, caption: str | None = None) -> None:
        super().__init__()
        self.figure = figure
        self.node = parent.add("Figure", alt=figure.alt)
        self.said = parent.add("P") if caption else None
        self.caption = caption
        self.factor = 1.0
        self.spaceBefore, self.spaceAfter = 3, 5

    def wrap(self, available_width: float, _available_height: float) -> tuple[float, float]:
        self.factor = min(1.0, available_width / (self.figure.width * mm))
        self.width = self.figure.width * mm * self.factor
        self.height = self.figure.height * mm * self.factor + (12 if self.caption else 0)
        return self.width, self.height

    def draw(self) -> None:
        canvas = canvas_of(self)
        self.node.box = boxed(self)
        with canvas.tagged(self.node):
            canvas.saveState()
            canvas.translate(0, self.height)
            canvas.scale(mm * self.factor, -mm * self.factor)
            for shape in self.figure.shapes:
                _DRAW[type(shape)](canvas, shape)
            canvas.restoreState()
        if self.caption:
            with canvas.tagged(self.said):
                canvas.setFillColor(COLOURS["soft"])
                write(canvas, (0, 2), self.caption, SANS, 8.5)


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
    canvas.saveState()
    canvas.translate(s.x, s.y)
    canvas.scale(1, -1)
    canvas.setFillColor(COLOURS[s.role])
    write(canvas, (0, 0), s.text, SANS_BOLD if s.strong else SANS, s.size, s.anchor)
    canvas.restoreState()


_DRAW: Mapping[type, Callable[..., None]] = {
    Line: _draw_line,
    Box: _draw_box,
    Dot: _draw_dot,
    Curve: _draw_curve,
    Label: _draw_label,
}
