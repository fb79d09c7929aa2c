"""From blocks to ReportLab's flowables: one builder for each kind of block."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace
from io import BytesIO
from itertools import repeat

from reportlab.lib.pagesizes import A4, LETTER
from reportlab.lib.styles import ParagraphStyle
from reportlab.lib.units import mm
from reportlab.platypus import (
    CondPageBreak,
    Flowable,
    KeepTogether,
    PageBreak,
    Spacer,
    TableStyle,
)

from ...figures.shapes import Figure
from .. import blocks as b
from .figures import FigureFlowable
from .fonts import SANS_ITALIC, plain
from .looks import look_table
from .pictures import photos_table, pictured_table, reasons_table
from .setting import COLOURS, Place, Rule
from .tagged.flowing import Grid, Shown, Text
from .tagged.tree import Node

PAPERS = {"A4": A4, "Letter": LETTER}
GUTTER = 6 * mm  # between a figure and the blocks beside it
MOST_BESIDE = 0.6  # a figure and its gutter take at most this share of the width
SIGNED_HIGH = 26  # points over the line
WORKSHOP_SIGNS = frozenset({"For the workshop", "For the shop"})
CELL_PADDING = 12.0  # ReportLab's own, left and right together
LONG_TEXT = 1000  # letters; shorter text cannot make a row that high in any column of ours
TALLEST_ROW = 200 * mm  # a row higher than this is parted at the end of a page


def _lead(block: b.Lead, at: Place) -> Sequence[Flowable]:
    return [at.text(plain(block.text), "lead", at.headings.kind(0))]


def _heading(block: b.Heading, at: Place) -> Sequence[Flowable]:
    tag = at.headings.kind(block.level)
    return [CondPageBreak(block.room * mm), at.text(plain(block.text), f"h{block.level}", tag)]


def _paragraph(block: b.Paragraph, at: Place) -> Sequence[Flowable]:
    term = f' <font name="{SANS_ITALIC}" color="#5F584D">{plain(block.term)}</font>' if block.term else ""
    return [at.text(plain(block.text) + term, block.kind)]


def _listing(block: b.Listing, at: Place) -> Sequence[Flowable]:
    marks = (str(n) for n in range(1, len(block.items) + 1)) if block.numbered else repeat("–")
    listed = at.under("L", numbering="Decimal" if block.numbered else "Disc")
    style = at.styles["fine" if block.fine else "item"]
    return [_item(text, mark, style, listed.node) for text, mark in zip(block.items, marks, strict=False)]


def _item(text: str, mark: str, style: ParagraphStyle, listed: Node) -> Text:
    item = listed.add("LI")
    label = item.add("Lbl")
    return Text(plain(text), style, item.add("LBody"), (mark, label))


LONGEST_CAUTION = 1200  # a rubric's text is no longer, so that each caution can stay whole on its page


def _caution(block: b.CautionBlock, at: Place) -> Sequence[Flowable]:
    inside = at.under("Div")
    head = inside.text("Caution" if len(block.texts) == 1 else "Cautions", "strong")
    rows = [[head], *([inside.text(plain(text), "body")] for text in block.texts)]
    endless = max(map(len, block.texts), default=0) > LONGEST_CAUTION
    table = Grid(rows, colWidths=[at.width], spaceBefore=10, spaceAfter=4, splitInRow=int(endless))
    whole = [] if endless else [("NOSPLIT", (0, 0), (0, 1))]  # the word Caution never stands alone
    table.setStyle(
        TableStyle(
            [
                *whole,
                ("LINEBEFORE", (0, 0), (0, -1), 1.2, COLOURS["ink"]),
                ("LEFTPADDING", (0, 0), (-1, -1), 8),
                ("TOPPADDING", (0, 0), (-1, -1), 0),
                ("BOTTOMPADDING", (0, 0), (-1, -1), 1.5),
            ]
        )
    )
    return [table]


def _drawing(block: b.Drawing, at: Place) -> Sequence[Flowable]:
    return [FigureFlowable(block.figure, at.node, block.caption)]


def _cell(text: b.Cell, column: b.Column, role: str, cell: Node, at: Place) -> Flowable:
    """A cell: a figure, or text whose lines after the first (parted by a line break) are softer."""
    if isinstance(text, Figure):
        return FigureFlowable(text, cell)
    first, *rest = text.split("\n")
    markup = plain(first) + "".join(f'<br/><font size="8.5" color="#5F584D">{plain(line)}</font>' for line in rest)
    return Text(markup, at.styles[f"{role}-figures" if column.figures else role], cell)


def _row(texts: Sequence[b.Cell], block: b.TableBlock, role: str, row: Node, at: Place) -> list[Flowable]:
    """The cells of a row; those of the head say that they head their columns."""
    kind, scope = ("TH", "Column") if role == "cell-head" else ("TD", "")
    pairs = zip(texts, block.columns, strict=True)
    return [_cell(text, column, role, row.add(kind, scope=scope), at) for text, column in pairs]


def _table(block: b.TableBlock, at: Place) -> Sequence[Flowable]:
    table_node = at.node.add("Table")
    head = _row([column.title for column in block.columns], block, "cell-head", table_node.add("THead").add("TR"), at)
    first_total = len(block.rows) - block.totals
    rest = table_node.add("TBody")
    body = [
        _row(row, block, "cell-total" if i >= first_total else "cell", rest.add("TR"), at)
        for i, row in enumerate(block.rows)
    ]
    if block.numbered:
        for (first, *_), (number, *_) in zip(body, block.rows, strict=True):
            if isinstance(first, Text) and number:
                first.found_by = f"finding-{number}"
    widths = [column.share * at.width for column in block.columns]
    rules: list[Rule] = [
        ("VALIGN", (0, 0), (-1, -1), "TOP"),
        ("LEFTPADDING", (0, 0), (0, -1), 0),
        ("RIGHTPADDING", (-1, 0), (-1, -1), 0),
        ("TOPPADDING", (0, 0), (-1, -1), at.setting.above),
        ("BOTTOMPADDING", (0, 0), (-1, -1), at.setting.below),
        ("LINEBELOW", (0, 0), (-1, 0), 0.6, COLOURS["ink"]),
        ("LINEBELOW", (0, 1), (-1, -1), 0.35, COLOURS["line"]),
    ]
    if block.totals:
        rules.append(("LINEABOVE", (0, first_total + 1), (-1, first_total + 1), 0.6, COLOURS["ink"]))
    # A row is parted only where it could not stand on a page; else its end would begin a page below a second head.
    long = [
        cell.wrap(share - CELL_PADDING, PAPERS["A4"][1])[1]
        for texts, row in zip(block.rows, body, strict=True)
        for text, cell, share in zip(texts, row, widths, strict=True)
        if isinstance(text, str) and len(text) > LONG_TEXT
    ]
    parted = int(max(long, default=0) > TALLEST_ROW)
    if block.totals and not parted and first_total:
        rules.append(("NOSPLIT", (0, first_total), (-1, -1)))  # a total keeps at least the last line that it adds up
    table = Grid([head, *body], colWidths=widths, repeatRows=1, splitInRow=parted, spaceBefore=3, spaceAfter=8)
    table.setStyle(TableStyle(rules))
    return [table]


def _signature(block: b.Signature, at: Place) -> Sequence[Flowable]:
    part = at.width / len(block.labels)
    cells = [at.text(plain(label), "cell-head") for label in block.labels]
    above = [_signed(label, part, at) for label in block.labels]
    table = Grid([above, cells], colWidths=[part] * len(cells), rowHeights=[SIGNED_HIGH, None])
    lines = [("LINEBELOW", (i, 0), (i, 0), 0.6, COLOURS["ink"]) for i in range(len(cells))]
    table.setStyle(TableStyle([*lines, ("LEFTPADDING", (0, 0), (-1, -1), 0), ("RIGHTPADDING", (0, 0), (-1, -1), 14)]))
    return [Spacer(0, 10), table]


def _signed(label: str, width: float, at: Place) -> Flowable | str:
    """The picture of the workshop's signature over its own line; one that cannot be opened any more is left out."""
    if label not in WORKSHOP_SIGNS or not at.signature:
        return ""
    try:
        shown = Shown(BytesIO(at.signature), kind="proportional", width=width - 14, height=SIGNED_HIGH - 6)
    except OSError:
        return ""
    shown.hAlign = "LEFT"
    shown.node = at.node.add("Figure", alt="Signature of the workshop")
    return shown


def _beside(block: b.Beside, at: Place) -> Sequence[Flowable]:
    """Figure at the left, blocks at the right; a figure wider than half the paper stands above them instead."""
    left = block.figure.width * mm + GUTTER
    if left > at.width * MOST_BESIDE:
        return [FigureFlowable(block.figure, at.node), *flowables(block.blocks, at)]
    right = replace(at, width=at.width - left)
    row = [[FigureFlowable(block.figure, at.node)], flowables(block.blocks, right)]
    table = Grid([row], colWidths=[left, right.width], splitInRow=1)
    edges: list[Rule] = [("VALIGN", (0, 0), (-1, -1), "TOP")]
    edges += [(side, (0, 0), (-1, -1), 0) for side in ("LEFTPADDING", "RIGHTPADDING", "TOPPADDING", "BOTTOMPADDING")]
    table.setStyle(TableStyle(edges))
    return [table]


def _photos(block: b.Photos, at: Place) -> Sequence[Flowable]:
    return [photos_table(block.photos, at)]


def _pictured(block: b.Pictured, at: Place) -> Sequence[Flowable]:
    return [pictured_table(block.rows, at)]


def _reasons(block: b.Reasons, at: Place) -> Sequence[Flowable]:
    return [reasons_table(block.reasons, at)]


def _next_page(_block: b.NextPage, _at: Place) -> Sequence[Flowable]:
    return [PageBreak()]


def _together(block: b.Together, at: Place) -> Sequence[Flowable]:
    """One KeepTogether; ReportLab takes one inside another for endlessly high, so inner ones are laid open.

    A break that would come first is needless there, and its height of nothing hides the room above the heading.
    """
    inner = flowables(block.blocks, at)
    first = 1 if inner and isinstance(inner[0], CondPageBreak) else 0
    return [KeepTogether([one for child in inner[first:] for one in getattr(child, "_content", [child])])]


def _taken_look(block: b.TakenLook, at: Place) -> Sequence[Flowable]:
    return [look_table(block, at)]


_BUILD: Mapping[type, Callable[..., Sequence[Flowable]]] = {
    b.Lead: _lead,
    b.Heading: _heading,
    b.Paragraph: _paragraph,
    b.Listing: _listing,
    b.CautionBlock: _caution,
    b.Drawing: _drawing,
    b.TableBlock: _table,
    b.Signature: _signature,
    b.Beside: _beside,
    b.Photos: _photos,
    b.Pictured: _pictured,
    b.TakenLook: _taken_look,
    b.Reasons: _reasons,
    b.NextPage: _next_page,
    b.Together: _together,
}


def flowables(blocks: Sequence[b.Block], at: Place) -> list[Flowable]:
    """ReportLab's flowables for the blocks, in order."""
    return [flowable for block in blocks for flowable in _BUILD[type(block)](block, at)]
