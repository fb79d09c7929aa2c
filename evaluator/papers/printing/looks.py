"""A look of the checklist on paper: words and boxes at the left, its drawings at the right, a line to write on."""

from collections.abc import Sequence

from reportlab.lib.units import mm
from reportlab.platypus import Flowable, Spacer, TableStyle

from ..blocks import Sheet, TakenLook
from .fonts import SANS_ITALIC, plain
from .pictures import SheetFlowable
from .setting import COLOURS, Place, Rule
from .tagged.canvas import canvas_of
from .tagged.flowing import Grid, Text
from .tagged.tree import Node

BOX_PT = 9.0
DRAWING_MM = 34.0
GAP = 10.0  # points between words and drawings
LINE_PT = 19.0  # room for handwriting


class BoxFlowable(Flowable):
    """An empty box to tick, under the label of its item."""

    def __init__(self, node: Node) -> None:
        super().__init__()
        self.node = node

    def wrap(self, _available_width: float, _available_height: float) -> tuple[float, float]:
        self.width = self.height = BOX_PT
        return self.width, self.height

    def draw(self) -> None:
        canvas = canvas_of(self)
        with canvas.tagged(self.node):
            canvas.setStrokeColor(COLOURS["ink"])
            canvas.setLineWidth(0.8)
            canvas.rect(0, 0, BOX_PT, BOX_PT, stroke=1, fill=0)


class WritingLine(Flowable):
    """A line to write on."""

    def wrap(self, available_width: float, _available_height: float) -> tuple[float, float]:
        self.width, self.height = available_width, LINE_PT
        return self.width, self.height

    def draw(self) -> None:
        canvas = canvas_of(self)
        with canvas.tagged(None):
            canvas.setStrokeColor(COLOURS["soft"])
            canvas.setLineWidth(0.5)
            canvas.line(0, 1, self.width, 1)


def look_table(look: TakenLook, at: Place) -> Grid:
    """One look, whole on its page: where it has no drawing its words take the whole width."""
    right = DRAWING_MM * mm if look.sheets else 0.0
    left = at.width - right - (GAP if right else 0.0)
    inside = at.under("Div")
    cells = [_words(look, left, inside)] + ([_drawings(look.sheets, inside)] if right else [])
    table = Grid([cells], colWidths=[left + GAP, right] if right else [at.width], splitInRow=0)
    rules: list[Rule] = [("VALIGN", (0, 0), (-1, -1), "TOP"), ("LINEBELOW", (0, 0), (-1, -1), 0.35, COLOURS["line"])]
    rules += [("LEFTPADDING", (0, 0), (-1, -1), 0), ("RIGHTPADDING", (0, 0), (-1, -1), 0)]
    rules += [("RIGHTPADDING", (0, 0), (0, 0), GAP if right else 0)]
    table.setStyle(TableStyle([*rules, ("TOPPADDING", (0, 0), (-1, -1), 6), ("BOTTOMPADDING", (0, 0), (-1, -1), 6)]))
    return table


def _words(look: TakenLook, width: float, at: Place) -> list[Flowable]:
    term = f' <font name="{SANS_ITALIC}" color="#5F584D">{plain(look.term)}</font>' if look.term else ""
    told: list[Flowable] = [at.text(f"{look.number}&nbsp;&nbsp;{plain(look.ask)}{term}", "cell-total")]
    told += [at.text(plain(text), "cell-head") for text in (*look.how, look.means) if text]
    told.append(Spacer(0, 3))
    if look.reading:
        told.append(_row(WritingLine(), at.text(plain(look.reading), "cell"), 90.0, width))
    if look.choices:
        choices = at.under("L", numbering="Square")
        told += [_choice(say, width, choices) for say in look.choices]
    return [*told, WritingLine()]


def _choice(say: str, width: float, choices: Place) -> Grid:
    item = choices.node.add("LI")
    box = BoxFlowable(item.add("Lbl", alt="Box to tick"))
    return _row(box, Text(plain(say), choices.styles["cell"], item.add("LBody")), BOX_PT + 6, width)


def _row(mark: Flowable, words: Flowable, mark_width: float, width: float) -> Grid:
    """A box or a line with its words beside it."""
    table = Grid([[mark, words]], colWidths=[mark_width, width - mark_width])
    edges: list[Rule] = [("LEFTPADDING", (0, 0), (0, 0), 0), ("LEFTPADDING", (1, 0), (1, 0), 6)]
    edges += [("RIGHTPADDING", (0, 0), (-1, -1), 0), ("TOPPADDING", (0, 0), (-1, -1), 1.5)]
    edges += [("BOTTOMPADDING", (0, 0), (-1, -1), 1.5), ("VALIGN", (0, 0), (-1, -1), "TOP")]
    table.setStyle(TableStyle(edges))
    return table


def _drawings(sheets: Sequence[Sheet], at: Place) -> list[Flowable]:
    found: list[Flowable] = []
    for sheet in sheets:
        caption = f"{sheet.judged}. {sheet.caption}" if sheet.judged else sheet.caption
        drawn = SheetFlowable(sheet, at.node, DRAWING_MM)
        found += [drawn, Spacer(0, 1), at.text(plain(caption), "cell-head"), Spacer(0, 4)]
    return found
