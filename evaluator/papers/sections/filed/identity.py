"""Which instrument it is: what its card says of it, and photographs from the same sides as every time."""

from collections.abc import Mapping, Sequence

from ...blocks import Block, Column, Heading, Photo, Photos, TableBlock, Together
from ...readers import Issued

SAID = (Column("What it is", 0.3), Column("As it reads, or as it was said", 0.7))
# By the name under which such a photograph is kept beside an evaluation, in the order in which they stand.
SIDES: Mapping[str, str] = {
    "view_front": "Front",
    "view_back": "Back",
    "view_side": "Side",
    "view_scroll": "Scroll",
    "view_label": "Label",
}
BOW_SIDES: Mapping[str, str] = {
    "view_front": "The whole bow",
    "view_side": "Frog",
    "view_scroll": "Head",
    "view_back": "Button",
    "view_label": "Stamp",
}


def sides_of(family: str) -> Mapping[str, str]:
    """The photographs that tell an instrument from others of its family, in words."""
    return BOW_SIDES if family == "bow" else SIDES


def identity(issued: Issued | None) -> Sequence[Block]:
    """What is known of which one it is; nothing where nobody said anything and took no photograph."""
    if issued is None:
        return []
    blocks: list[Block] = []
    if issued.card:
        blocks.append(Together((Heading("Which one it is", 2, room=0), TableBlock(SAID, issued.card))))
    if issued.sides:
        photos = tuple(Photo(0, content, said) for said, content in issued.sides)
        head = [] if blocks else [Heading("Which one it is", 2, room=60)]
        blocks += [*head, Photos(photos)]
    return blocks
