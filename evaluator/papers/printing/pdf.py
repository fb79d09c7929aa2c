"""Papers as PDF: draws the blocks of `story` with ReportLab on A4 or Letter, in the look of the papers.

All text passes `fonts.plain`, so that nothing a user typed is ever read as markup. Equal results give equal bytes.
"""

from collections.abc import Iterable, Sequence
from io import BytesIO

from reportlab.lib.units import mm
from reportlab.lib.utils import ImageReader
from reportlab.pdfgen.canvas import Canvas
from reportlab.platypus import BaseDocTemplate, Flowable, Frame, PageTemplate, Paragraph

from ...result.model.result import Result
from .. import blocks as b
from ..readers import PAGES, Issued
from ..story import papers
from .building import PAPERS, flowables
from .fonts import SANS, SERIF, register
from .setting import COLOURS, ROOMY, TIGHT, TIGHTEST, Place, Setting
from .tagged.canvas import TaggedCanvas, cut, width_of, write
from .tagged.enclosed import evaluation_file, fingerprint, invoice_file
from .tagged.finishing import Drawn, finished
from .tagged.metadata import About, clean
from .tagged.tree import Node

__all__ = ["PAPERS", "draw", "laid_out", "report_pdf"]

MARGIN = 18 * mm
FOOT = 10 * mm
LOGO_WIDE, LOGO_HIGH = 40 * mm, 12 * mm
HEAD_SIZES, CONTACT_SIZES = (9.5, 8.5, 7.5, 6.5), (8.0, 7.0, 6.0)  # a long name is set smaller before it is cut
OUTLINE = {"h1": 0, "h2": 1}  # level in the outline by style
COUNT_FORM = "page-count"
TIGHT_SAVES = 1.5  # set tighter, a paper takes at most a third fewer pages
NEARLY_EMPTY = 0.6  # of a page, its margin at the top counted


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


def _draw_edges(
    canvas: TaggedCanvas, page: tuple[float, float], foot: str, letterhead: str, contact: str, beside: float
) -> None:
    """Letterhead above and 'page 2 of 4' below, no part of what is read aloud; `PageCount` fills the count's form.

    `beside`: the width that a logo takes at the right of the head.
    """
    width, height = page
    canvas.setFillColor(COLOURS["soft"])
    write(canvas, (MARGIN, FOOT), foot, SANS, 8.5)
    canvas.setFont(SANS, 8.5)
    canvas.drawRightString(width - MARGIN - 11, FOOT, f"page {canvas.getPageNumber()} of")
    canvas.saveState()
    canvas.translate(width - MARGIN - 9, FOOT)
    canvas.doForm(COUNT_FORM)
    canvas.restoreState()
    room = width - 2 * MARGIN - beside
    _head_line(canvas, height - 11 * mm, letterhead, (SERIF, HEAD_SIZES), room)
    _head_line(canvas, height - 14.5 * mm, contact, (SANS, CONTACT_SIZES), room)


def _head_line(canvas: TaggedCanvas, y: float, text: str, faces: tuple[str, Sequence[float]], room: float) -> None:
    """A line of the head in the largest of these sizes that fits; cut in the smallest where none does."""
    face, sizes = faces
    size = next((one for one in sizes if width_of(text, face, one) <= room), sizes[-1])
    write(canvas, (MARGIN, y), cut(text, face, size, room), face, size)


def _draw_logo(canvas: TaggedCanvas, page: tuple[float, float], logo: bytes) -> None:
    """The shop's own picture at the right of the head; one that cannot be opened any more is left out."""
    try:
        picture = ImageReader(BytesIO(logo))
    except OSError:
        return
    width, height = page
    x, y = width - MARGIN - LOGO_WIDE, height - MARGIN + 1.5 * mm
    canvas.drawImage(picture, x, y, LOGO_WIDE, LOGO_HIGH, mask="auto", preserveAspectRatio=True, anchor="ne")


class Outlined(BaseDocTemplate):
    """A document whose headings stand in the outline that a reader shows beside the pages."""

    level, headings = -1, 0

    def afterFlowable(self, flowable: Flowable) -> None:  # noqa: N802 (ReportLab's name)
        name = getattr(getattr(flowable, "style", None), "name", "")
        if name not in OUTLINE or not isinstance(flowable, Paragraph):
            return
        self.level = min(OUTLINE[name], self.level + 1)
        self.headings += 1
        key = f"heading-{self.headings}"
        self.canv.bookmarkPage(key)
        self.canv.addOutlineEntry(flowable.getPlainText(), key, self.level)


def draw(paper: b.Paper, size: str = "A4") -> bytes:
    """The paper as PDF bytes; the same paper gives the same bytes.

    Set a little tighter where the last page would otherwise be nearly empty and that saves the page.
    """
    register()
    drawn, end = laid_out(paper, size, ROOMY)
    for setting in (TIGHT, TIGHTEST):
        if end.pages > 1 and end.filled < NEARLY_EMPTY:
            tighter, other = laid_out(paper, size, setting)
            if other.pages < end.pages:
                drawn, end = tighter, other
    return _handed_out(drawn, paper)


def _handed_out(drawn: Drawn, paper: b.Paper) -> bytes:
    about = About(
        title=clean(f"{paper.foot}: {paper.title}"),
        author=clean(paper.letterhead),
        subject=paper.subject,
        day=paper.day,
        fingerprint=fingerprint(paper.attached) if paper.attached else "",
        booked=bool(paper.invoice),
    )
    enclosed = (evaluation_file(paper.attached), invoice_file(paper.invoice))
    return finished(drawn, about, [one for one in enclosed if one.content])


def laid_out(paper: b.Paper, size: str, setting: Setting) -> tuple[Drawn, PageCount]:
    """The paper drawn in one setting, and where it ended."""
    page = PAPERS[size]
    letterhead = f"{paper.letterhead}  ·  {paper.title}" if paper.letterhead else paper.title
    out = BytesIO()
    document = Outlined(out, pagesize=page, lang="en", invariant=1, displayDocTitle=1)
    width, height = page
    frame = Frame(MARGIN, MARGIN, width - 2 * MARGIN, height - 2 * MARGIN, 0, 0, 0, 0)

    foot = cut(paper.foot, SANS, 8.5, width - 2 * MARGIN - 60)

    def edges(canvas: Canvas, _document: BaseDocTemplate) -> None:
        assert isinstance(canvas, TaggedCanvas)
        with canvas.tagged(None):
            shown = bool(paper.logo) and canvas.getPageNumber() == 1
            if shown:
                _draw_logo(canvas, page, paper.logo)
            beside = LOGO_WIDE + 3 * mm if shown else 0.0
            _draw_edges(canvas, page, foot, letterhead, "  ·  ".join(paper.contact), beside)

    document.addPageTemplates([PageTemplate(frames=[frame], onPage=edges)])
    end = PageCount(height)
    root = Node("Document")
    story = [*flowables(paper.blocks, Place(width - 2 * MARGIN, setting, root, signature=paper.signature)), end]
    document.build(story, canvasmaker=TaggedCanvas)
    assert isinstance(document.canv, TaggedCanvas)
    return Drawn(out.getvalue(), root, document.canv.pages), end


def fitted(choices: Iterable[b.Paper], pages: int, size: str = "A4") -> bytes:
    """The first of these papers that holds in so many pages, set as roomily as that goes; the last where none does."""
    register()
    last: tuple[Drawn, b.Paper] | None = None
    for paper in choices:
        for setting in (ROOMY, TIGHT, TIGHTEST):
            drawn, end = laid_out(paper, size, setting)
            last = drawn, paper
            if end.pages <= pages:
                return _handed_out(drawn, paper)
            if end.pages > pages * TIGHT_SAVES:
                break
    assert last is not None
    return _handed_out(*last)


def report_pdf(result: Result, reader: str = "buyer", paper: str = "A4", issued: Issued | None = None) -> bytes:
    """The PDF of a result for a `reader` (one of `story.READERS`) on `paper` (A4, Letter)."""
    choices = papers(result, reader, issued)
    if reader in PAGES:
        return fitted(choices, PAGES[reader], paper)
    return draw(next(choices), paper)
