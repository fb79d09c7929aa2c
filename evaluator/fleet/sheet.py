"""A sheet with one instrument a row: its head in named columns, then a column for each check.

A cell of a check holds an outcome by its id or its words, a reading with its unit, or several readings parted by
semicolons; `CHECK.tool`, `CHECK.note` and `CHECK.seen_by` say more. Columns that are neither are told.
"""

import re
from collections.abc import Mapping, Sequence

from ..basis.frozen import dataclass
from ..basis.problem import Hints, Message, Messages, Place, Problem, problem
from ..basis.typed.quantities import with_unit_behind
from ..rubric.rubric import Rubric
from ..rubric.written.checks import Check
from ..valuation.sales.headings import FAMILIES_SAID, plainly, word_of

MOST_COLUMNS = 1_000
HEAD = ("rubric", "title", "size", "style", "tier", "year", "age", "strings", "about", "purpose", "asking",
        "ready_value", "currency", "seen_by", "looker")  # fmt: skip
SAME = {"family": "rubric", "instrument": "rubric", "name": "title", "tag": "title", "stock number": "title"}
IN_INSTRUMENT = ("size", "style", "tier", "year", "age", "strings", "about")
PRICES = ("asking", "ready_value")
MORE = ("tool", "note", "seen_by")
_BRACKETS = re.compile(r"[(\[]([^)\]]*)[)\]]")
GUARDS = ("'=", "'+", "'-", "'@")

MESSAGES: Messages = {
    "fleet.no_rubric": Message("nothing says what it is.", "Write violin, viola, cello or bow."),
    "fleet.no_family": Message('"{text}" is not a family.', "Write violin, viola, cello or bow."),
    "fleet.column": Message('there is no check "{name}" for a {family}.', "{hint}"),
    "fleet.head": Message(
        'no column says what each row is ("rubric").', "Add it, and write violin, viola, cello or bow."
    ),
    "fleet.twice": Message('the column "{name}" is there twice.', "Keep one of them."),
}


@dataclass(frozen=True, slots=True)
class SheetRow:
    """One row: the sheet's name, the line (from 1), the filled cells by the name of their column; and of every column
    its number and the unit in its heading, where one stands there.
    """

    file: str
    line: int
    cells: Mapping[str, str]
    columns: Mapping[str, int]
    units: Mapping[str, str]

    @property
    def data(self) -> object:
        return self.cells

    def place(self, *path: str | int, key: bool = False) -> Place | None:
        """The cell that a key of the evaluation comes from, or with `key` the top of its column."""
        names = [str(step) for step in path if step not in ("instrument", "observations", "amount")]
        column = next((self.columns[name] for name in reversed(names) if name in self.columns), 0)
        return Place(self.file, 1 if key and column else self.line, column or 1)

    def rubric_name(self) -> str | Problem:
        text = self.cells.get("rubric", "")
        if not text:
            return problem(MESSAGES, "fleet.no_rubric", "rubric", self.place("rubric"))
        found = word_of(text, FAMILIES_SAID)
        return found or problem(MESSAGES, "fleet.no_family", "rubric", self.place("rubric"), text=text[:40])


def is_sheet(content: bytes, name: str) -> bool:
    """Whether it is a spreadsheet: by its name for text, by what it holds for a packed one."""
    if content[:4] == b"PK\x03\x04":
        start = content[:300]
        return b"opendocument.spreadsheet" in start or name.lower().endswith((".xlsx", ".ods"))
    return name.lower().endswith((".csv", ".tsv", ".xlsx", ".ods"))


def sheet_rows(content: bytes, name: str) -> tuple[SheetRow, ...] | Problem:
    """The rows of a sheet, or why it cannot be read as one."""
    from ..valuation.sales.sheets import rows_of

    rows = rows_of(content, name, MOST_COLUMNS)
    if isinstance(rows, Problem):
        return rows
    head, *body = rows
    columns: dict[str, int] = {}
    units: dict[str, str] = {}
    for number, cell in enumerate(head.cells, 1):
        known = named(cell)
        if known in columns:
            return problem(MESSAGES, "fleet.twice", "", Place(name, head.line, number), name=known)
        if known:
            columns[known] = number
            units[known] = unit_in(cell)
    if "rubric" not in columns:
        return problem(MESSAGES, "fleet.head", "", Place(name, head.line, 1))
    return tuple(SheetRow(name, row.line, _filled(row.cells, columns), columns, units) for row in body)


def named(heading: str) -> str:
    """The key of a column: one of the head's names, else the heading as it stands, for a check."""
    bare = plainly(heading)
    bare = SAME.get(bare, bare)
    return bare.replace(" ", "_") if bare.replace(" ", "_") in HEAD else _BRACKETS.sub("", heading).strip()


def unit_in(heading: str) -> str:
    """'mm' of 'body_length (mm)'; empty where no unit stands there."""
    found = _BRACKETS.search(heading)
    return found[1].strip() if found else ""


def _filled(cells: Sequence[str], columns: Mapping[str, int]) -> dict[str, str]:
    """The cells with something in them; the apostrophe that keeps a spreadsheet from reckoning is taken off."""
    found = {name: cells[at - 1] for name, at in columns.items() if at <= len(cells) and cells[at - 1].strip()}
    return {name: text[1:] if text.startswith(GUARDS) else text for name, text in found.items()}


def row_data(row: SheetRow, rubric: Rubric) -> tuple[dict[str, object], tuple[Problem, ...]]:
    """The row as the evaluation file that it stands for, and its columns that mean nothing here."""
    cells = row.cells
    data: dict[str, object] = {"format": 1, "rubric": rubric.name}
    data |= {key: cells[key] for key in ("title", "purpose", "seen_by", "looker") if key in cells}
    data["instrument"] = {key: cells[key] for key in IN_INSTRUMENT if key in cells}
    for key in PRICES:
        if key in cells:
            data[key] = {"amount": cells[key], "currency": cells.get("currency", "USD").upper()}
    observations: dict[str, dict[str, object]] = {}
    problems, hints = [], Hints()
    for name, text in cells.items():
        check, _, more = name.partition(".")
        if name in HEAD:
            continue
        if check not in rubric.checks or (more and more not in MORE):
            hint = hints.near(name, rubric.checks) or "Leave the column out, or leave this cell empty."
            where = row.place(name)
            problems.append(problem(MESSAGES, "fleet.column", "", where, name=name[:60], family=rubric.name, hint=hint))
        elif more:
            observations.setdefault(check, {})[more] = text
        else:
            observations.setdefault(check, {}).update(answer_in(rubric.checks[check], text, row.units[name]))
    data["observations"] = observations
    return data, tuple(problems)


def answer_in(check: Check, text: str, unit: str = "") -> dict[str, object]:
    """An outcome by its id or its words, else one or more readings, as a file says it; `unit`: of its column."""
    said = " ".join(text.lower().split()).rstrip(".")
    for name, outcome in check.outcomes.items():
        if said in (name, name.replace("_", " "), " ".join(outcome.say.lower().split()).rstrip(".")):
            return {"outcome": name}
    if said in ("cannot tell", "cannot_tell"):
        return {"outcome": "cannot_tell"}
    if check.kind == "choice":
        return {"outcome": text.strip()}
    parts = [part.strip() for part in text.split(";") if part.strip()]
    return {"reading": [with_unit_behind(part, unit) for part in parts]}
