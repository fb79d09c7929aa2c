"""A canvas that notes which element each mark is of; what belongs to none (rules, page numbers) is an artifact."""

from collections.abc import Callable, Iterator
from contextlib import contextmanager

from reportlab.pdfgen.canvas import Canvas
from reportlab.platypus import Flowable

from ..fonts import SANS
from .tree import Leading, Node


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
