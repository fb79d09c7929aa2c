"""Photographs on paper, three a row, each with its number and what it shows."""

from collections.abc import Sequence
from io import BytesIO

from reportlab.lib.units import mm
from reportlab.platypus import Flowable, Spacer, TableStyle

from ..blocks import Photo
from .fonts import plain
from .setting import Place, Rule
from .tagged.flowing import Grid, Shown

A_ROW = 3
HIGH_MM = 46.0
GAP = 10.0  # points


def photos_table(photos: Sequence[Photo], at: Place) -> Grid:
    """The photos in rows, read one after another."""
    part = at.width / A_ROW
    cells = [_cell(photo, part - GAP, at.under("Div")) for photo in photos]
    cells += [[] for _ in range(-len(cells) % A_ROW)]
    rows = [cells[i : i + A_ROW] for i in range(0, len(cells), A_ROW)]
    table = Grid(rows, colWidths=[part] * A_ROW, splitInRow=0)
    edges: list[Rule] = [("VALIGN", (0, 0), (-1, -1), "TOP"), ("LEFTPADDING", (0, 0), (-1, -1), 0)]
    edges += [("RIGHTPADDING", (0, 0), (-1, -1), GAP), ("TOPPADDING", (0, 0), (-1, -1), 3)]
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
