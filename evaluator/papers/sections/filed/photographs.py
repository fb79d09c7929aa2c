"""The photographs: each with the number of its finding, which leads to it, or with the name of what it shows."""

from collections.abc import Mapping, Sequence
from dataclasses import replace

from ....result.model.result import Result
from ....wording.words import believed, subject, title
from ...blocks import Block, Heading, Photo, Photos, Reasons

FIRST_ROW = 80.0  # millimetres for the heading and the highest row of photographs with its captions
GONE = "The photo is no longer in the records."


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
