"""A canvas that notes which element each mark is of, and the words drawn straight onto it, each letter in a face that
has it; what belongs to no element (rules, page numbers) is an artifact.
"""

from collections.abc import Callable, Iterator, Mapping
from contextlib import contextmanager

from reportlab.pdfbase.pdfmetrics import stringWidth
from reportlab.pdfgen.canvas import Canvas
from reportlab.platypus import Flowable

from ....figures.shapes import Anchor
from ..fonts import SANS, drawable, runs
from .tree import Leading, Node

SHIFT: Mapping[Anchor, float] = {"start": 0.0, "middle": 0.5, "end": 1.0}


class TaggedCanvas(Canvas):
    """`pages`: the nodes of each page's marks, by their numbers.

    Its first face is one that is embedded: a page names it even where nothing is drawn with it.
    """

    def __init__(self, *args: object, **given: object) -> None:
        made: Callable[..., None] = super().__init__  # ReportLab's own arguments, passed on
        made(*args, **{**given, "initialFontName": SANS})
        self.pages: list[list[Node]] = []
        self.places: set[str] = set()
        self._marking = False

    @contextmanager
    def tagged(self, node: Node | None) -> Iterator[None]:
        """What is drawn inside shows this node; without one it is an artifact. Within a mark it belongs to that."""
        if self._marking:
            yield
            return
        self._marking = True
        self.addLiteral("/Artifact BMC" if node is None else self._opened(node))
        yield
        self.addLiteral("EMC")
        self._marking = False

    def named(self, name: str, height: float) -> None:
        """Let links find the place where is drawn now."""
        self.bookmarkHorizontal(name, 0, height)
        self.places.add(name)

    def lead(self, link: Node, name: str, size: tuple[float, float]) -> None:
        """A link from where is drawn now to a named place of this paper."""
        self.linkRect("", name, (0, 0, *size), relative=1)
        place = len(self._annotationrefs) - 1  # type: ignore[attr-defined]
        link.kids.append(Leading(self.getPageNumber() - 1, place, f"Go to {name.replace('-', ' ')}"))

    def _opened(self, node: Node) -> str:
        page = self.getPageNumber() - 1
        while len(self.pages) <= page:
            self.pages.append([])
        number = len(self.pages[page])
        self.pages[page].append(node)
        node.kids.append((page, number))
        return f"/{node.kind} <</MCID {number}>> BDC"


def canvas_of(flowable: Flowable) -> TaggedCanvas:
    """The canvas on which a flowable is being drawn."""
    canvas = flowable.canv
    assert isinstance(canvas, TaggedCanvas)
    return canvas


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
