"""A spreadsheet, as bytes or pasted text, as rows of cells in plain text: CSV in any dialect, XLSX and ODS.

Bounded before anything is unpacked: a small archive can hold gigabytes. Formulas are read by the value that was saved
with them, never worked out.
"""

import csv
import io
import re
import zipfile
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date, datetime
from xml.etree import ElementTree

from ...basis.problem import Message, Messages, Place, Problem, problem
from ...basis.zipped import DAMAGED

MOST_ROWS = 5_000
MOST_COLUMNS = 60
MOST_UNPACKED = 40_000_000
MOST_TIMES_LARGER = 200  # what an archive holds over its own size: text packs into a twentieth at best
SEPARATORS = (",", ";", "\t", "|")

MESSAGES: Messages = {
    "sheet.empty": Message("the file holds no rows.", "Put the column names in the first line, one sale a line below."),
    "sheet.encoding": Message("the letters of the file cannot be read.", "Save it as CSV in UTF-8, or as XLSX or ODS."),
    "sheet.quote": Message("a quotation mark is not closed.", 'Close it with ".'),
    "sheet.too_many": Message("the file has more than {limit} rows.", "Split it."),
    "sheet.too_wide": Message("the file has more than {limit} columns.", "Leave out those that are not needed."),
    "sheet.broken": Message("the spreadsheet is damaged, or is none.", "Save it again, or save it as CSV."),
    "sheet.bomb": Message("the file unpacks to more than {limit} MB.", "Give only the sheet with the sales."),
    "sheet.old": Message("this is a spreadsheet of an old form (XLS).", "Save it as XLSX, ODS or CSV."),
}
_TABLE = "{urn:oasis:names:tc:opendocument:xmlns:table:1.0}"
_OFFICE = "{urn:oasis:names:tc:opendocument:xmlns:office:1.0}"
_TEXT = "{urn:oasis:names:tc:opendocument:xmlns:text:1.0}"


@dataclass(frozen=True, slots=True)
class Row:
    """Line in the sheet, from 1, and the cells as text, trimmed; `end` tells cells beyond the last filled one."""

    line: int
    cells: tuple[str, ...]


def rows_of(content: bytes | str, file: str, most_columns: int = MOST_COLUMNS) -> tuple[Row, ...] | Problem:
    """The filled rows of a sheet (the first that has any in a workbook), or why it cannot be read."""
    found: tuple[Row, ...] | Problem
    if isinstance(content, bytes) and content[:4] == b"PK\x03\x04":
        found = _workbook(content, file, most_columns)
    elif isinstance(content, bytes) and content[:4] == b"\xd0\xcf\x11\xe0":
        return problem(MESSAGES, "sheet.old", "", Place(file))
    else:
        text = _decoded(content) if isinstance(content, bytes) else content.removeprefix("\ufeff")
        found = problem(MESSAGES, "sheet.encoding", "", Place(file)) if text is None else _csv(text, file)
    if isinstance(found, Problem):
        return found
    if len(found) > MOST_ROWS + 1:
        return problem(MESSAGES, "sheet.too_many", "", Place(file), limit=MOST_ROWS)
    if any(len(row.cells) > most_columns for row in found):
        return problem(MESSAGES, "sheet.too_wide", "", Place(file), limit=most_columns)
    return found if len(found) > 1 else problem(MESSAGES, "sheet.empty", "", Place(file))


def as_csv(rows: Sequence[Row]) -> str:
    """The rows as comma-separated text that reads back to the same cells; empty lines keep the numbers of lines."""
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\n")
    line = 1
    for row in rows:
        out.write("\n" * (row.line - line))
        writer.writerow(cell.replace("\n", " ") for cell in row.cells)
        line = row.line + 1
    return out.getvalue()


def guarded(cell: str) -> str:
    """A cell that no spreadsheet takes for a formula: an apostrophe before = + - @ and tabs, but for numbers."""
    risky = cell[:1] in {"=", "+", "-", "@", "\t", "\r"} and not re.fullmatch(r"[+-]?[0-9]+(\.[0-9]+)?", cell)
    return f"'{cell}" if risky else cell


def _decoded(content: bytes) -> str | None:
    """The text of a file, by its mark, else UTF-16 by its zeros, else UTF-8, else the Windows letters."""
    for mark, name in ((b"\xef\xbb\xbf", "utf-8-sig"), (b"\xff\xfe", "utf-16"), (b"\xfe\xff", "utf-16")):
        if content.startswith(mark):
            return _by(content, name)
    half = max(1, len(content) // 2)
    for name, zeros in (("utf-16-le", content[1::2]), ("utf-16-be", content[0::2])):
        if len(content) > 3 and zeros.count(0) > 0.7 * half:
            return _by(content, name)
    if b"\x00" in content:
        return None
    return _by(content, "utf-8") or _by(content, "cp1252")


def _by(content: bytes, name: str) -> str | None:
    try:
        return content.decode(name)
    except UnicodeError:
        return None


def _csv(text: str, file: str) -> tuple[Row, ...] | Problem:
    text = text.replace("\r\n", "\n").replace("\r", "\n")
    stated = re.match(r"sep=(.)\n", text)
    separator = stated[1] if stated else _separator(text)
    lines = csv.reader(io.StringIO(text), delimiter=separator, strict=True)
    found = []
    try:
        for cells in lines:
            if any(cell.strip() for cell in cells) and not (stated and lines.line_num == 1):
                found.append(Row(lines.line_num, tuple(cell.strip() for cell in cells)))
                if len(found) > MOST_ROWS + 1:
                    break
    except csv.Error:
        return problem(MESSAGES, "sheet.quote", "", Place(file, max(1, lines.line_num), 1))
    return tuple(found)


def _separator(text: str) -> str:
    """The sign between cells: of those in the first filled line the one that stands there most, outside quotes."""
    first = next((line for line in text.splitlines() if line.strip()), "")
    bare = re.sub(r'"[^"]*"', "", first)
    return max(SEPARATORS, key=lambda sign: (bare.count(sign), -SEPARATORS.index(sign)))


def _workbook(content: bytes, file: str, most_columns: int) -> tuple[Row, ...] | Problem:
    try:
        with zipfile.ZipFile(io.BytesIO(content)) as archive:
            size = sum(one.file_size for one in archive.infolist())
            if size > MOST_UNPACKED or size > MOST_TIMES_LARGER * len(content) + 1_000_000:
                return problem(MESSAGES, "sheet.bomb", "", Place(file), limit=MOST_UNPACKED // 1_000_000)
            names = archive.namelist()
            if any(b"<!DOCTYPE" in archive.read(one)[:2_000] for one in names if one.endswith(".xml")):
                return problem(MESSAGES, "sheet.broken", "", Place(file))
            if "content.xml" in names:
                return _squared(tuple(_ods(archive.read("content.xml"), most_columns)))
        return _squared(tuple(_xlsx(content, most_columns)))
    except (*DAMAGED, ElementTree.ParseError, KeyError, OSError):
        return problem(MESSAGES, "sheet.broken", "", Place(file))


def _squared(rows: tuple[Row, ...]) -> tuple[Row, ...]:
    """Rows as long as the first: a workbook does not keep empty cells at the end."""
    width = len(rows[0].cells) if rows else 0
    return tuple(Row(row.line, row.cells + ("",) * (width - len(row.cells))) for row in rows)


def _xlsx(content: bytes, most_columns: int) -> Iterator[Row]:
    from openpyxl import load_workbook

    book = load_workbook(io.BytesIO(content), read_only=True, data_only=True)
    for sheet in book.worksheets:
        found = []
        for line, cells in enumerate(sheet.iter_rows(values_only=True, max_col=most_columns + 1), 1):
            texts = _trimmed([_shown(cell) for cell in cells])
            found += [Row(line, texts)] if texts else []
            if len(found) > MOST_ROWS + 1:
                break
        if found:
            yield from found
            return


def _ods(content: bytes, most_columns: int) -> Iterator[Row]:
    for sheet in ElementTree.fromstring(content).iter(f"{_TABLE}table"):
        line, found = 1, []
        for row in sheet.iter(f"{_TABLE}table-row"):
            cells: list[str] = []
            for cell in row:
                times = int(cell.get(f"{_TABLE}number-columns-repeated", "1"))
                cells += [_ods_cell(cell)] * min(times, most_columns + 1 - len(cells))
            texts = _trimmed(cells)
            times = int(row.get(f"{_TABLE}number-rows-repeated", "1"))
            found += [Row(line + at, texts) for at in range(min(times, MOST_ROWS + 2))] if texts else []
            line += times
            if len(found) > MOST_ROWS + 1:
                break
        if found:
            yield from found
            return


def _ods_cell(cell: ElementTree.Element) -> str:
    """A number or day as its value, whatever its format shows; else the text."""
    kind = cell.get(f"{_OFFICE}value-type")
    if kind == "date":
        return cell.get(f"{_OFFICE}date-value", "")[:10]
    if kind in {"float", "currency", "percentage"}:
        return _shown(float(cell.get(f"{_OFFICE}value", "0")))
    return " ".join("".join(one.itertext()) for one in cell.iter(f"{_TEXT}p")).strip()


def _shown(value: object) -> str:
    """A cell's value as text; numbers without an exponent and without thousands, so that they are read as they are."""
    if value is None or isinstance(value, bool):
        return "" if value is None else str(value)
    if isinstance(value, datetime | date):
        return value.isoformat()[:10]
    if isinstance(value, float):
        text = f"{value:.4f}".rstrip("0").rstrip(".")
        return f"{text}0" if len(text.partition(".")[2]) == 3 else text  # 1.455 would be taken for a thousand
    return str(value).strip()


def _trimmed(cells: list[str]) -> tuple[str, ...]:
    """The cells up to the last filled one."""
    while cells and not cells[-1].strip():
        cells.pop()
    return tuple(cell.strip() for cell in cells)
