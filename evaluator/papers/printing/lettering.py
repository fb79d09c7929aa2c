"""Words drawn straight onto the canvas, each letter in a face that has it: labels, heads and feet of pages."""

from collections.abc import Mapping

from reportlab.pdfbase.pdfmetrics import stringWidth
from reportlab.pdfgen.canvas import Canvas

from ...figures.shapes import Anchor
from .fonts import drawable, runs

SHIFT: Mapping[Anchor, float] = {"start": 0.0, "middle": 0.5, "end": 1.0}


def width_of(text: str, face: str, size: float) -> float:
    """How wide the text is drawn, in the unit of `size`."""
    return float(sum(stringWidth(piece, name, size) for name, piece in runs(drawable(text), face)))


def write(canvas: Canvas, at: tuple[float, float], text: str, face: str, size: float, anchor: Anchor = "start") -> None:
    """Draw the text with its start, middle or end at a place."""
    x, y = at
    if anchor != "start":
        x -= SHIFT[anchor] * width_of(text, face, size)
    for name, piece in runs(drawable(text), face):
        canvas.setFont(name, size)
        canvas.drawString(x, y, piece)
        x += stringWidth(piece, name, size)


def cut(text: str, face: str, size: float, room: float) -> str:
    """As much of a line as fits into the room, an ellipsis where it is cut."""
    if width_of(text, face, size) <= room:
        return text
    while text and width_of(f"{text}…", face, size) > room:
        text = text[:-1]
    return f"{text.rstrip()}…"
