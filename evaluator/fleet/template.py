"""The sheet to fill in for a family: a row an instrument, a column a check, and beside it what may be written where.

A cell of a check with named answers has them as a list to choose from; a reading's column says its unit.
"""

import io
from typing import TYPE_CHECKING

from ..rubric.rubric import Rubric
from ..rubric.written.checks import Check
from .sheet import HEAD

if TYPE_CHECKING:
    from openpyxl.worksheet.worksheet import Worksheet


ROWS = 200  # the choices reach so far down
ASKED = "Instruments"
TOLD = "What to write"
CHOICES: dict[str, tuple[str, ...]] = {
    "style": ("classical", "fiddle"),
    "tier": ("student", "intermediate", "professional"),
    "age": ("new", "up_to_40", "40_to_100", "over_100"),
    "strings": ("steel", "synthetic", "gut"),
    "purpose": ("buying", "trade_in", "quote"),
    "seen_by": ("in_person", "photos", "seller_statement"),
    "looker": ("student", "teacher", "luthier"),
}
HEAD_SAID = {
    "rubric": "Which family it is of",
    "title": "A name or number to find it by",
    "size": "Its size",
    "style": "What is played on it",
    "tier": "The standard of which player it is held to",
    "year": "The year it was made, in four digits",
    "age": "Or its age, about",
    "strings": "The strings on it",
    "about": "What else is known of it",
    "purpose": "What must be decided",
    "asking": "What is asked for it",
    "ready_value": "Its worth, ready to play, where you know it",
    "currency": "The currency of both prices, in three letters",
    "seen_by": "How it was seen",
    "looker": "Who looked",
}


def asked_checks(rubric: Rubric) -> tuple[Check, ...]:
    """The checks that somebody can answer, in the order of the pages."""
    return tuple(check for check in rubric.checks.values() if check.kind != "derived")


def heading(check: Check) -> str:
    """'body_length (mm)'."""
    return f"{check.check} ({check.measure.unit})" if check.measure else check.check


def template(rubric: Rubric) -> bytes:
    """The sheet as XLSX: the first leaf to fill in, the second to look things up."""
    from openpyxl import Workbook
    from openpyxl.worksheet.worksheet import Worksheet

    book = Workbook()
    asked, told = book.active, book.create_sheet(TOLD)
    assert isinstance(asked, Worksheet)
    asked.title = ASKED
    checks = asked_checks(rubric)
    asked.append([*HEAD, *(heading(check) for check in checks)])
    asked.freeze_panes = "C2"
    told.append(["Column", "What it asks", "Answers, or how to write it"])
    names = [*HEAD, *(check.check for check in checks)]
    for place, name in enumerate(names, 1):
        check = rubric.checks.get(name) if name not in HEAD else None
        answers = _answers(rubric, name, check)
        told.append([name, check.ask if check else HEAD_SAID[name], *(answers or [_how(check)])])
        if answers:
            _offer(asked, told, place, place + 1, len(answers))
    _dress(asked, told)
    out = io.BytesIO()
    book.save(out)
    return out.getvalue()


def _answers(rubric: Rubric, name: str, check: Check | None) -> tuple[str, ...]:
    if check is not None:
        return (*check.outcomes, "cannot_tell") if check.kind == "choice" else ()
    if name == "rubric":
        return (rubric.name,)
    return rubric.sizes if name == "size" else CHOICES.get(name, ())


def _how(check: Check | None) -> str:
    if check is None:
        return "in words"
    if check.measure:
        return f"a reading in {check.measure.unit}; several parted by semicolons; with another unit, write it behind"
    if check.rate:
        return f"{check.rate.lowest} ({check.rate.low_means}) to {check.rate.highest} ({check.rate.high_means})"
    return "a whole number"


def _offer(asked: "Worksheet", told: "Worksheet", column: int, row: int, count: int) -> None:
    """The answers of a row of the second leaf as the choices of a column of the first."""
    from openpyxl.utils import get_column_letter
    from openpyxl.worksheet.datavalidation import DataValidation

    last = get_column_letter(2 + count)
    choices = DataValidation(type="list", formula1=f"='{TOLD}'!$C${row}:${last}${row}", allow_blank=True)
    choices.showErrorMessage = False  # our reader says better what is wrong, and takes the words too
    letter = get_column_letter(column)
    choices.add(f"{letter}2:{letter}{ROWS + 1}")
    asked.add_data_validation(choices)


def _dress(asked: "Worksheet", told: "Worksheet") -> None:
    from openpyxl.styles import Alignment, Font
    from openpyxl.utils import get_column_letter

    for place in range(1, asked.max_column + 1):
        asked.cell(1, place).font = Font(bold=True)
        asked.column_dimensions[get_column_letter(place)].width = 16
    for place, width in ((1, 28), (2, 60), (3, 24)):
        told.cell(1, place).font = Font(bold=True)
        told.column_dimensions[get_column_letter(place)].width = width
    for row in range(2, told.max_row + 1):
        told.cell(row, 2).alignment = Alignment(wrap_text=True, vertical="top")
