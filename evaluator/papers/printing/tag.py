"""A price tag, 90 x 50 mm: the name, the number, the price, and a code that leads to the instrument's page."""

from io import BytesIO

from reportlab.lib.units import mm

from ...basis import show
from ...choosing.stock import Item
from .fonts import SANS, SERIF_BOLD, register
from .tagged.canvas import TaggedCanvas, width_of, write
from .tagged.finishing import Drawn, finished
from .tagged.metadata import About
from .tagged.tree import Node

WIDTH_MM, HEIGHT_MM, EDGE_MM, CODE_MM = 90.0, 50.0, 5.0, 26.0


def tag_pdf(item: Item, address: str) -> bytes:
    """The tag as a PDF of one page; without a price it says so."""
    register()
    out = BytesIO()
    canvas = TaggedCanvas(out, pagesize=(WIDTH_MM * mm, HEIGHT_MM * mm), invariant=1, lang="en")
    canvas.setViewerPreference("DisplayDocTitle", "true")
    root = Node("Document")
    room = WIDTH_MM - 2 * EDGE_MM
    said = f"{item.family.capitalize()}, {item.size}"
    price = show.money(item.price.amount, item.price.currency, cents=item.price.amount % 1 != 0) if item.price else "-"
    name = item.title or f"{item.family.capitalize()} {item.size}"
    for kind, text, y_mm, face, size, wide in (
        ("H1", name, HEIGHT_MM - 11.0, SERIF_BOLD, 13.0, room),
        ("P", said, HEIGHT_MM - 17.5, SANS, 9.0, room),
        ("P", price, 15.0, SERIF_BOLD, 22.0, room - CODE_MM),
        ("P", item.number, 7.0, SANS, 9.0, room - CODE_MM),
    ):
        with canvas.tagged(root.add(kind)):
            _line(canvas, text, y_mm, face, size, wide)
    with canvas.tagged(root.add("Figure", alt=f"A code that leads to {address}")):
        _code(canvas, address)
    canvas.save()
    return finished(Drawn(out.getvalue(), root, canvas.pages), About(f"Tag {item.number}"))


def _line(canvas: TaggedCanvas, text: str, y_mm: float, face: str, size: float, room_mm: float) -> None:
    """A line from the left edge, set smaller where it would not fit."""
    wide = width_of(text, face, size)
    fitting = min(size, size * room_mm * mm / wide) if wide else size
    write(canvas, (EDGE_MM * mm, y_mm * mm), text, face, max(5.0, fitting))


def _code(canvas: TaggedCanvas, address: str) -> None:
    """The code at the right, black on white, drawn square by square."""
    import segno

    matrix = segno.make(address, error="m", micro=False).matrix
    step = CODE_MM / len(matrix)
    left, top = WIDTH_MM - EDGE_MM - CODE_MM, EDGE_MM + CODE_MM
    for row, cells in enumerate(matrix):
        for column, dark in enumerate(cells):
            if dark:
                x, y = left + column * step, top - (row + 1) * step
                canvas.rect(x * mm, y * mm, step * mm, step * mm, stroke=0, fill=1)
