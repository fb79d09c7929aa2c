"""The structure of a paper: headings, paragraphs, lists, tables and figures, each with the marks that show it.

Free of any PDF library. A node is made when its flowable is built, so the tree is in reading order whatever is drawn
first; its marks (page, number on the page) are noted while it is drawn. Standard kinds of ISO 32000-1, 14.8.4.
"""

from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import TypeAlias

KEPT_EMPTY = frozenset({"TD", "TH", "TR"})  # a table stays regular where a cell holds nothing
Mark: TypeAlias = tuple[int, int]  # page from 0, number of the mark on that page


@dataclass(frozen=True, slots=True)
class Leading:
    """A link on a page: which of the page's, and where it leads in words."""

    page: int
    place: int
    says: str


Box: TypeAlias = tuple[float, float, float, float]


@dataclass(slots=True, eq=False)
class Node:
    """An element. `alt`: what a figure shows, in words; `box`: where, in points; `scope`: what a table's head heads;
    `numbering`: how a list is marked.
    """

    kind: str
    alt: str = ""
    scope: str = ""
    numbering: str = ""
    box: Box | None = None
    kids: "list[Node | Mark | Leading]" = field(default_factory=list)

    def add(self, kind: str, *, alt: str = "", scope: str = "", numbering: str = "") -> "Node":
        """A new child, last in order."""
        child = Node(kind, alt, scope, numbering)
        self.kids.append(child)
        return child

    def pruned(self) -> bool:
        """Take out what nothing on the pages shows; whether anything is left."""
        self.kids = [kid for kid in self.kids if not isinstance(kid, Node) or kid.pruned()]
        return bool(self.kids) or self.kind in KEPT_EMPTY

    def all(self) -> "Iterator[Node]":
        """This node and all below it, in reading order."""
        yield self
        for kid in self.kids:
            if isinstance(kid, Node):
                yield from kid.all()


@dataclass(slots=True, eq=False)
class Headings:
    """Levels of headings as tags: they begin at H1 and leave none out, whatever a paper's first heading is."""

    first: int | None = None
    last: int = -1

    def kind(self, level: int) -> str:
        """'H1' for the first heading of a paper; `level` 0 is the sentence on top."""
        self.first = level if self.first is None else self.first
        self.last = max(0, min(level - self.first, self.last + 1))
        return f"H{self.last + 1}"
