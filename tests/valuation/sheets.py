"""The same three sales as spreadsheets write them: made here, in as many dialects as shops have programs."""

import io
import zipfile
from collections.abc import Callable, Sequence
from datetime import date

from openpyxl import Workbook

Cells = Sequence[str]
HEAD: Cells = ("name", "sold_on", "kind", "price", "currency", "family", "size", "tier")
ROWS: tuple[Cells, ...] = (
    ("Geige Müller", "2024-03-31", "dealer_sale", "1800.00", "USD", "violin", "4/4", "student"),
    ("Brown, old", "2024-11-05", "auction", "1750.50", "USD", "violin", "4/4", "student"),
    ("Third", "2025-01-15", "private_sale", "12900.00", "USD", "violin", "3/4", "intermediate"),
)
WANTED = [
    ("Geige Müller", date(2024, 3, 31), "dealer_sale", 1800.0, "4/4"),
    ("Brown, old", date(2024, 11, 5), "auction", 1750.5, "4/4"),
    ("Third", date(2025, 1, 15), "private_sale", 12900.0, "3/4"),
]


def changed(column: str, to: Callable[[str], str], rows: Sequence[Cells] = ROWS) -> tuple[Cells, ...]:
    at = HEAD.index(column)
    return tuple((*row[:at], to(row[at]), *row[at + 1 :]) for row in rows)


def csv_of(rows: Sequence[Cells] = ROWS, head: Cells = HEAD, separator: str = ",", end: str = "\n") -> str:
    def quoted(cell: str) -> str:
        doubled = cell.replace('"', '""')
        return f'"{doubled}"' if separator in cell or '"' in cell else cell

    return end.join(separator.join(quoted(cell) for cell in row) for row in (head, *rows)) + end


def day(pattern: str) -> Callable[[str], str]:
    """2024-03-31 in another form: strftime's, without zeros where it has a #."""

    def shown(text: str) -> str:
        found = date.fromisoformat(text).strftime(pattern.replace("#", ""))
        return found.replace("/0", "/").removeprefix("0") if "#" in pattern else found

    return shown


def money(group: str, point: str, before: str = "", behind: str = "", places: int = 2) -> Callable[[str], str]:
    """1800.00 with other marks and signs."""

    def shown(text: str) -> str:
        whole, _, cents = f"{float(text):,.{places}f}".partition(".")
        return before + whole.replace(",", group) + (point + cents if cents else "") + behind

    return shown


def xlsx_of(rows: Sequence[Sequence[object]], head: Cells = HEAD, blank: int = 0) -> bytes:
    book = Workbook()
    sheet = book.active
    assert sheet is not None
    for _ in range(blank):
        sheet.append([])
    for row in (head, *rows):
        sheet.append(list(row))
    out = io.BytesIO()
    book.save(out)
    return out.getvalue()


def typed_rows() -> list[list[object]]:
    """The rows with days and numbers as a spreadsheet keeps them."""
    return [[row[0], date.fromisoformat(row[1]), row[2], float(row[3]), *row[4:]] for row in ROWS]


def ods_of(rows: Sequence[Cells], head: Cells = HEAD) -> bytes:
    names = 'xmlns:{0}="urn:oasis:names:tc:opendocument:xmlns:{0}:1.0"'

    def cell(text: str, column: str) -> str:
        if column == "price":
            return f'<table:table-cell office:value-type="currency" office:value="{text}"><text:p>{text}</text:p>'
        if column == "sold_on":
            return f'<table:table-cell office:value-type="date" office:date-value="{text}"><text:p>x</text:p>'
        return f'<table:table-cell office:value-type="string"><text:p>{text}</text:p>'

    lines = ["".join(f"<table:table-cell><text:p>{one}</text:p></table:table-cell>" for one in head)]
    lines += ["".join(cell(*pair) + "</table:table-cell>" for pair in zip(row, HEAD, strict=True)) for row in rows]
    body = "".join(f"<table:table-row>{line}</table:table-row>" for line in lines)
    spare = '<table:table-row table:number-rows-repeated="1048000"><table:table-cell/></table:table-row>'
    declared = " ".join(names.format(one) for one in ("office", "table", "text"))
    content = (
        f"<office:document-content {declared}><office:body><office:spreadsheet><table:table>{body}{spare}"
        "</table:table></office:spreadsheet></office:body></office:document-content>"
    )
    return zipped({"mimetype": b"application/vnd.oasis.opendocument.spreadsheet", "content.xml": content.encode()})


def zipped(files: dict[str, bytes]) -> bytes:
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as archive:
        for name, content in files.items():
            archive.writestr(name, content)
    return out.getvalue()


GERMAN = ("Bezeichnung", "Verkauft am", "Verkaufsart", "Preis (EUR)", "Währung", "Gattung", "Größe", "Stufe")
TRADE = ("Item", "Date sold", "Channel", "Sold for", "Ccy", "Category", "Size", "Level")
_EURO = changed("price", money(".", ",", behind=" €"), changed("currency", lambda _: "EUR"))
_SAID = {"dealer_sale": "Laden", "auction": "Auktion", "private_sale": "privat"}
_LEVEL = {"student": "Schüler", "intermediate": "Fortgeschritten"}
_GERMAN = tuple(
    (name, day("%d.%m.%Y")(sold), _SAID[kind], money(".", ",")(price), "EUR", "Geige", size, _LEVEL[tier])
    for name, sold, kind, price, _, _, size, tier in ROWS
)
_TURNED = tuple(tuple(reversed(row)) for row in ROWS)

# (what it is, the sheet, the currency of the shop)
RIGHT: tuple[tuple[str, bytes | str, str], ...] = (
    ("commas", csv_of(), "USD"),
    ("utf-8", csv_of().encode(), "USD"),
    ("utf-8 with its mark", csv_of().encode("utf-8-sig"), "USD"),
    ("utf-16 with its mark", csv_of().encode("utf-16"), "USD"),
    ("utf-16 big-endian", csv_of().encode("utf-16-be"), "USD"),
    ("utf-16 little-endian", csv_of().encode("utf-16-le"), "USD"),
    ("windows letters", csv_of().encode("cp1252"), "USD"),
    ("windows lines", csv_of(end="\r\n"), "USD"),
    ("old lines", csv_of(end="\r"), "USD"),
    ("semicolons", csv_of(separator=";"), "USD"),
    ("tabs", csv_of(separator="\t"), "USD"),
    ("upright lines", csv_of(separator="|"), "USD"),
    ("a stated separator", "sep=;\n" + csv_of(separator=";"), "USD"),
    ("decimal commas", csv_of(changed("price", money("", ",")), separator=";"), "USD"),
    ("thousands by points, decimal commas", csv_of(changed("price", money(".", ",")), separator=";"), "USD"),
    ("thousands by commas", csv_of(changed("price", money(",", "."))), "USD"),
    ("thousands by spaces", csv_of(changed("price", money(" ", ","))), "USD"),
    ("thousands by narrow spaces", csv_of(changed("price", money("\u202f", ","))), "USD"),
    ("thousands by apostrophes", csv_of(changed("price", money("'", "."))), "USD"),
    ("dollars before", csv_of(changed("price", money(",", ".", before="$"))), "USD"),
    ("a code before", csv_of(changed("price", money(",", ".", before="USD "))), "USD"),
    ("euros behind", csv_of(_EURO, separator=";"), "EUR"),
    ("German", csv_of(_GERMAN, GERMAN, ";").encode("cp1252"), "EUR"),
    ("the trade's names", csv_of(head=TRADE), "USD"),
    ("capitals and lines in names", csv_of(head=[one.upper().replace("_", "-") for one in TRADE]), "USD"),
    ("columns turned round", csv_of(_TURNED, tuple(reversed(HEAD))), "USD"),
    ("days with points", csv_of(changed("sold_on", day("%d.%m.%Y"))), "USD"),
    ("days with points, short", csv_of(changed("sold_on", day("%d.%m.%y"))), "USD"),
    ("day first, by the column", csv_of(changed("sold_on", day("%d/%m/%Y"))), "USD"),
    ("month first, by the column", csv_of(changed("sold_on", day("%m/%d/%Y"))), "USD"),
    ("month first without zeros", csv_of(changed("sold_on", day("#%m/%d/%Y"))), "USD"),
    ("year first with strokes", csv_of(changed("sold_on", day("%Y/%m/%d"))), "USD"),
    ("months by name", csv_of(changed("sold_on", day("%d %B %Y"))), "USD"),
    ("months short", csv_of(changed("sold_on", day("%d-%b-%y"))), "USD"),
    ("month first by name", csv_of(changed("sold_on", day("%B %d, %Y"))), "USD"),
    ("a time behind the day", csv_of(changed("sold_on", lambda text: f"{text} 00:00:00")), "USD"),
    ("a column of its own", csv_of([(*row, "A-12") for row in ROWS], (*HEAD, "Invoice")), "USD"),
    ("blank lines between", csv_of().replace("\n", "\n\n"), "USD"),
    ("xlsx with days and numbers", xlsx_of(typed_rows()), "USD"),
    ("xlsx with texts", xlsx_of(ROWS, TRADE), "USD"),
    ("xlsx that begins lower", xlsx_of(typed_rows(), blank=3), "USD"),
    ("ods", ods_of(ROWS), "USD"),
)
