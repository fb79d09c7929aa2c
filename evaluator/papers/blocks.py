"""What a paper is made of, free of any PDF library: headings, sentences, figures and tables in reading order.

`story` builds them from a result, `pdf` draws them. Text is plain text; no block holds markup.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal, TypeAlias

from ..drawings.geometry.pen import Shape
from ..figures.shapes import Figure


@dataclass(frozen=True, slots=True)
class Lead:
    """The sentence that answers the question: the largest thing on page one."""

    text: str


@dataclass(frozen=True, slots=True)
class Heading:
    """`room`: millimetres that must be free below the top of the heading, so that it never stands alone."""

    text: str
    level: Literal[1, 2] = 1
    room: float = 42.0


@dataclass(frozen=True, slots=True)
class Paragraph:
    """`term`, when given, is the trade's word and is printed in italics behind the text."""

    text: str
    kind: Literal["body", "soft", "strong"] = "body"
    term: str | None = None


@dataclass(frozen=True, slots=True)
class Listing:
    """`fine`: set smaller, for what is looked up rather than read."""

    items: tuple[str, ...]
    numbered: bool = False
    fine: bool = False


@dataclass(frozen=True, slots=True)
class CautionBlock:
    """Cautions in full size under the word Caution, never in small print."""

    texts: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Drawing:
    figure: Figure
    caption: str | None = None


@dataclass(frozen=True, slots=True)
class Photo:
    """A photograph as a JPEG's bytes, empty where it is gone; `number` of the finding that it shows, 0 for none."""

    number: int
    content: bytes
    caption: str


@dataclass(frozen=True, slots=True)
class Photos:
    """Photographs in rows; a number leads to the row of its finding, where the paper has one."""

    photos: tuple[Photo, ...]


@dataclass(frozen=True, slots=True)
class Sheet:
    """A drawing's band (units of the pen), and its caption after "Right" or "Wrong"."""

    shapes: tuple[Shape, ...]
    top: float
    height: float
    judged: str
    caption: str


@dataclass(frozen=True, slots=True)
class PicturedRow:
    number: int
    title: str
    cure: str
    sheets: tuple[Sheet, ...]


@dataclass(frozen=True, slots=True)
class Pictured:
    """Findings with their drawings, each with its words at the left and its sheets beside each other."""

    rows: tuple[PicturedRow, ...]


@dataclass(frozen=True, slots=True)
class Reason:
    """One of the reasons on page one: its words, and the drawing of what was seen where there is one. `taken`: the
    names of photographs of it; `photo`: one of them as a JPEG's bytes, which stands in the place of the drawing.
    """

    text: str
    sheet: Sheet | None
    taken: tuple[str, ...] = ()
    photo: bytes = b""


@dataclass(frozen=True, slots=True)
class Reasons:
    """The reasons beside each other, each with its drawing above its words."""

    reasons: tuple[Reason, ...]


@dataclass(frozen=True, slots=True)
class NextPage:
    """What follows begins on a page of its own."""


@dataclass(frozen=True, slots=True)
class TakenLook:
    """A look to take along: the question with its term and what that means, boxes to tick, a line for a reading (what
    stands behind it, empty without one), a line to write on, and its drawings.
    """

    number: int
    ask: str
    term: str
    means: str
    how: tuple[str, ...]
    choices: tuple[str, ...]
    reading: str
    sheets: tuple[Sheet, ...]


@dataclass(frozen=True, slots=True)
class Beside:
    """A figure at the left and blocks at its right."""

    figure: Figure
    blocks: "tuple[Block, ...]"


@dataclass(frozen=True, slots=True)
class Column:
    """`share` of the width; figures are aligned to the right."""

    title: str
    share: float
    figures: bool = False


Cell: TypeAlias = str | Figure


@dataclass(frozen=True, slots=True)
class TableBlock:
    """Rows of plain text or figures; the last `totals` rows are set off by a line and printed strong. `numbered`: the
    first cell of a row is the number of a finding, to which photographs lead.
    """

    columns: tuple[Column, ...]
    rows: tuple[tuple[Cell, ...], ...]
    totals: int = 0
    numbered: bool = False


@dataclass(frozen=True, slots=True)
class Signature:
    labels: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Together:
    """Blocks that are not parted by the end of a page when they fit on one."""

    blocks: "tuple[Block, ...]"


Block: TypeAlias = (
    Lead
    | Heading
    | Paragraph
    | Listing
    | CautionBlock
    | Drawing
    | Photos
    | Pictured
    | Reasons
    | NextPage
    | TakenLook
    | Beside
    | TableBlock
    | Signature
    | Together
)


@dataclass(frozen=True, slots=True)
class Paper:
    """A whole paper: its title, the shop's own name for the letterhead, a line at the foot, the blocks, and how
    to reach the shop, for the head of each page. `day` of what it tells (ISO), empty where it is not known; `attached`:
    the evaluation as JSON, for a file within the paper; `invoice`: a bill as XML, for another; `logo`: a picture for
    the head of page one, `signature`: one for where the workshop signs; all empty for none.
    """

    title: str
    letterhead: str
    foot: str
    blocks: Sequence[Block]
    contact: tuple[str, ...] = ()
    day: str = ""
    attached: bytes = b""
    logo: bytes = b""
    signature: bytes = b""
    invoice: bytes = b""
    subject: str = "Evaluation of a bowed instrument"
