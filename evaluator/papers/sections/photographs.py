"""Photographs of an instrument: which one it is, from the same sides as every time beside what its card says; and each
of a finding, with its number, which leads to it, or with the name of what it shows.
"""

from collections.abc import Mapping, Sequence
from dataclasses import replace

from ...result.model.result import Result
from ...wording.words import believed, subject, title
from ..blocks import Block, Column, Heading, Photo, Photos, Reasons, TableBlock, Together
from ..readers import Issued

FIRST_ROW = 80.0  # millimetres for the heading and the highest row of photographs with its captions
GONE = "The photo is no longer in the records."
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


def photographs(
    result: Result, pictures: Mapping[str, bytes], numbers: Mapping[str, int] | None = None
) -> Sequence[Block]:
    """Those of findings in the order of the list, then the others; one that is gone says so. `pictures`: by name;
    `numbers`: of the findings by check, those of the list by weight where None.
    """
    titles = {item.check: title(item) for item in believed(result)}
    told_by = {check: number for number, check in enumerate(titles, 1)} if numbers is None else numbers
    found = {check: (number, titles[check]) for check, number in told_by.items() if check in titles}
    told: list[tuple[int, Photo]] = []
    for check in result.checks:
        names = tuple(dict.fromkeys(name for answer in check.observations for name in answer.photos))
        number, said = found.get(check.check, (0, subject(check)))
        for name in names:
            content = pictures.get(name, b"")
            told.append((number or len(found) + 1, Photo(number, content, said if content else f"{said}. {GONE}")))
    told.sort(key=lambda one: one[0])
    return [Heading("Photographs", room=FIRST_ROW), Photos(tuple(photo for _, photo in told))] if told else []


def photographed(reasons: Reasons, pictures: Mapping[str, bytes]) -> Reasons:
    """The reasons with the photograph of what was seen, where one was taken and is still there."""
    return Reasons(
        tuple(
            replace(one, photo=next((pictures[name] for name in one.taken if pictures.get(name)), b""))
            for one in reasons.reasons
        )
    )


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
