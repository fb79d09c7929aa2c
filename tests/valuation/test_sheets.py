"""Spreadsheets in forty dialects: each read rightly or asked back, none wrong in silence."""

from datetime import date
from time import perf_counter

import pytest

from evaluator.basis.problem import Place
from evaluator.valuation.sales.comparables import Comparable
from evaluator.valuation.sales.sales_file import BOOK_NEEDED, SheetRead, read_sales, read_sheet, write_sales
from evaluator.valuation.sales.sheets import as_csv, rows_of
from tests.valuation.sheets import HEAD, RIGHT, ROWS, WANTED, changed, csv_of, day, money, ods_of, xlsx_of, zipped

ON = date(2026, 3, 4)
SIZES = {"violin": ("4/4", "3/4"), "viola": ("405 mm", "420 mm", "393 mm")}


def read(content: bytes | str, currency: str = "USD") -> SheetRead:
    return read_sheet(content, "sheet", currency, ON, SIZES, BOOK_NEEDED)


def told(content: bytes | str, currency: str = "USD") -> list[str]:
    found = read(content, currency)
    assert found.problems
    return [str(one) for one in found.problems]


@pytest.mark.parametrize(("content", "currency"), [one[1:] for one in RIGHT], ids=[one[0] for one in RIGHT])
def test_each_dialect_is_read_rightly(content: bytes | str, currency: str) -> None:
    found = read(content, currency)
    assert found.problems == ()
    seen = [(one.sale.name, one.sale.sold_on, one.sale.kind, one.sale.price, one.sale.size) for one in found.rows]
    assert seen == WANTED
    assert {one.sale.currency for one in found.rows} == {currency}
    rows = rows_of(content, "sheet")
    assert isinstance(rows, tuple)
    assert read(as_csv(rows), currency).rows == found.rows, "what waits on the page reads back the same"


def test_there_are_forty_of_them() -> None:
    assert len(RIGHT) >= 40 and len({one[1] for one in RIGHT}) == len(RIGHT)


@pytest.mark.parametrize("word", ["full", "Full size", "fullsize", "1/1", "ganz", "4/4"])
def test_a_full_size_has_many_names(word: str) -> None:
    full = [row for row in ROWS if row[HEAD.index("size")] == "4/4"]
    found = read(csv_of(changed("size", lambda _: word, full)))
    assert found.problems == () and full
    assert {one.sale.size for one in found.rows} == {"4/4"}


SILENT = [row for row in ROWS if row[0] == "Brown, old"]  # 5 November, or 11 May


@pytest.mark.parametrize(
    ("content", "place", "word"),
    [
        (csv_of(changed("sold_on", day("%d/%m/%Y"), SILENT)), "2:2", "5 November 2024 or 11 May 2024"),
        (csv_of(changed("sold_on", day("%m-%d-%Y"), SILENT)), "2:2", "11 May 2024 or 5 November 2024"),
        (csv_of((*changed("sold_on", day("%d/%m/%Y")), *changed("sold_on", day("%m/%d/%Y"))[:1], *changed(
            "sold_on", day("%m/%d/%Y"), SILENT))), "6:2", "can be"),
        (csv_of(changed("price", lambda _: "1450.000")), "2:4", "1,450,000.00 USD or 1,450.00 USD"),
        (csv_of(changed("price", money(",", ".", before="€"))), "2:4", "is in another currency"),
        (csv_of(changed("currency", lambda text: "EUR", ROWS[1:])), "2:5", "two currencies do not add"),
        (csv_of(changed("sold_on", lambda _: "2062-01-01")), "2:2", "lies after the day of valuation"),
        (csv_of(changed("sold_on", lambda _: "31.02.2024")), "2:2", "is not a date"),
        (csv_of(changed("family", lambda _: "guitar")), "2:6", "is not a family"),
        (csv_of(changed("price", lambda _: "")), "2:4", "nothing is written"),
        (csv_of([row[:3] + row[4:] for row in ROWS], HEAD[:3] + HEAD[4:]), "1:1", 'the column "price" is missing'),
        (csv_of(changed("price", lambda _: "1.8k")), "2:4", "is not an amount"),
        (csv_of(changed("price", lambda _: "-5")), "2:4", "outside 0.01"),
        (csv_of(changed("price", lambda _: "1.8E+03")), "2:4", "is not an amount"),
        (csv_of(changed("size", lambda _: "2-Jan")), "2:7", "is not a size of a violin"),
        (csv_of(changed("size", lambda _: "3/4 x")), "2:7", 'Did you mean "3/4"?'),
        (csv_of(changed("name", lambda _: "a\x00b")), "2:1", "no letter"),
        (csv_of(head=(*HEAD[:7], "price")), "1:8", 'the column "price" is there twice'),
        (xlsx_of([(*row[:3], 1.455, *row[4:]) for row in ROWS]), "2:4", "more decimals"),
        (csv_of().replace("2024-03-31,", ""), "2:7", "the row has 7 cells"),
    ],
)  # fmt: skip
def test_what_is_open_or_wrong_is_told_with_row_and_column(content: bytes | str, place: str, word: str) -> None:
    found = told(content)
    assert any(f"sheet:{place}" in one and word in one for one in found), found


def test_a_missing_column_is_told_once_at_the_line_of_names() -> None:
    (first, *_) = told(csv_of([row[:3] + row[4:] for row in ROWS], HEAD[:3] + HEAD[4:]))
    assert first.startswith('sheet:1:1 the column "price" is missing. Add it to the first line')


def test_once_somebody_says_what_stands_first_the_days_are_read() -> None:
    sheet = csv_of(changed("sold_on", day("%d/%m/%Y"), SILENT))
    for order, wanted in (("day_first", date(2024, 11, 5)), ("month_first", date(2024, 5, 11))):
        found = read_sheet(sheet, "sheet", "USD", ON, SIZES, BOOK_NEEDED, order)  # type: ignore[arg-type]
        assert found.problems == () and found.rows[0].sale.sold_on == wanted


def test_a_sheet_without_a_currency_is_in_the_shops_and_says_so() -> None:
    sheet = csv_of([row[:4] + row[5:] for row in ROWS], HEAD[:4] + HEAD[5:])
    needed = [one for one in BOOK_NEEDED if one != "currency"]
    found = read_sheet(sheet, "sheet", "USD", ON, SIZES, needed)
    assert found.problems == () and found.assumed == "USD"
    assert "missing" in told(sheet)[0]


@pytest.mark.parametrize(
    ("text", "size"),
    [("16 in", "405 mm"), ('15 1/2"', "393 mm"), ("40.5 cm", "405 mm"), ("405mm", "405 mm"), ("420 MM", "420 mm")],
)
def test_a_viola_is_named_by_its_length_in_any_unit(text: str, size: str) -> None:
    sheet = csv_of(changed("family", lambda _: "Bratsche", changed("size", lambda _: text, ROWS[:1])))
    assert [one.sale.size for one in read(sheet).rows] == [size]


@pytest.mark.parametrize("text", ["405", "20 in", "big"])
def test_a_length_that_is_none_of_them_is_told(text: str) -> None:
    sheet = csv_of(changed("family", lambda _: "viola", changed("size", lambda _: text, ROWS[:1])))
    assert "is not a size of a viola" in told(sheet)[0]


def test_columns_of_its_own_go_into_the_note() -> None:
    sheet = csv_of([(*row, "A-12", "nice") for row in ROWS], (*HEAD, "Invoice", "Remarks"))
    found = read(sheet)
    assert found.extra == ("Invoice",) and found.rows[0].sale.note == "nice; Invoice: A-12"


def test_no_formula_goes_out_and_what_goes_out_comes_back() -> None:
    names = ["=cmd|' /C calc'!A0", "+1+1", "-2+3", "@SUM(A1)", "\tx", "plain", "'quoted"]
    sales = tuple(
        Comparable(name.strip(), date(2024, 1, 1), "auction", 5.0, "USD", set_up=-450.0, note="=1") for name in names
    )
    text = write_sales(sales)
    for line in text.splitlines()[1:]:
        assert line.lstrip('"')[0] not in "=+-@\t", line
    assert read_sales(text, "x", "USD", ON) == (sales, ())


@pytest.mark.parametrize(
    ("content", "code"),
    [
        (b"", "sheet.empty"),
        (b"PK\x03\x04broken", "sheet.broken"),
        (zipped({"content.xml": b"<a><b></a>"}), "sheet.broken"),
        (zipped({"content.xml": b'<!DOCTYPE x [<!ENTITY a "aa">]><x>&a;</x>'}), "sheet.broken"),
        (zipped({"something.txt": b"x"}), "sheet.broken"),
        (b"\xd0\xcf\x11\xe0 old", "sheet.old"),
        (b"a\x00b\x01\x02,c\n1,2\n", "sheet.encoding"),
        (csv_of([ROWS[0]] * 5_001), "sheet.too_many"),
        (ods_of([ROWS[0]] * 5_001), "sheet.too_many"),
        (csv_of(head=[*HEAD, *(f"c{i}" for i in range(80))]), "sheet.too_wide"),
    ],
)
def test_a_sheet_that_cannot_be_read_says_why(content: bytes | str, code: str) -> None:
    found = read(content)
    assert found.rows == () and [one.code for one in found.problems] == [code]


def test_a_sheet_of_five_thousand_rows_is_read_and_an_open_quote_is_told_with_its_place() -> None:
    rows = rows_of("a,b\n" * 5_001, "sheet")
    assert isinstance(rows, tuple) and len(rows) == 5_001, "the line of names and five thousand rows"
    (broken,) = read('name,price\n"a,1\n').problems
    assert (broken.code, broken.place) == ("sheet.quote", Place("sheet", 2, 1))
    packed = read(zipped({"content.xml": b" " * 45_000_000}))
    assert packed.rows == () and [(one.code, "40 MB" in one.what) for one in packed.problems] == [("sheet.bomb", True)]


def test_five_thousand_bad_rows_cost_little_more_than_good_ones() -> None:
    def seconds(sheet: str) -> float:
        start = perf_counter()
        read(sheet)
        return perf_counter() - start

    good = csv_of(list(ROWS[:1]) * 5_000)
    bad = csv_of([("", "soon", f"sale{i}", "lots", "EUR", f"violn{i}", "5/4", f"stud{i}") for i in range(5_000)])
    assert seconds(bad) < 5 * seconds(good)


def ods_with(body: str) -> bytes:
    names = 'xmlns:{0}="urn:oasis:names:tc:opendocument:xmlns:{0}:1.0"'
    declared = " ".join(names.format(one) for one in ("office", "table", "text"))
    content = f"<office:document-content {declared}><office:body>{body}</office:body></office:document-content>"
    kind = {"mimetype": b"application/vnd.oasis.opendocument.spreadsheet"}
    return zipped(kind | {"content.xml": content.encode()})


def ods_cell(kind: str, keys: str, shown: str) -> str:
    return f'<table:table-cell office:value-type="{kind}" {keys}><text:p>{shown}</text:p></table:table-cell>'


@pytest.mark.parametrize(
    ("cell", "text"),
    [
        (ods_cell("float", 'office:value="1.455"', "1,5"), "1.4550"),  # not a thousand
        (ods_cell("float", 'office:value="1450"', "1.450"), "1450"),
        (ods_cell("float", 'office:value="1450.5"', "~"), "1450.5"),
        (ods_cell("percentage", 'office:value="0.75"', "75 %"), "0.75"),
        (ods_cell("currency", 'office:value="1800"', "1.800 EUR"), "1800"),
        (ods_cell("float", "", "?"), "0"),
        (ods_cell("date", 'office:date-value="2024-03-31T09:30:00"', "31. Mar"), "2024-03-31"),
        (ods_cell("string", "", "  old <text:span>and</text:span> brown "), "old and brown"),
        (ods_cell("string", "", "one</text:p><text:p>two"), "one two"),
    ],
)
def test_a_cell_of_ods_is_read_by_its_value_whatever_it_shows(cell: str, text: str) -> None:
    row = f"<table:table-row>{cell}<table:table-cell/></table:table-row>"
    found = rows_of(ods_with(f"<table:table>{row}{row}</table:table>"), "sheet")
    assert [(one.line, one.cells) for one in found] == [(1, (text,)), (2, (text,))]  # type: ignore[union-attr]


def test_repeated_cells_and_rows_of_ods_count_and_an_empty_first_sheet_is_passed_over() -> None:
    blank = '<table:table-row table:number-rows-repeated="9"><table:table-cell/></table:table-row>'
    empty = f"<table:table>{blank}</table:table>"
    cells = ods_cell("string", 'table:number-columns-repeated="2"', "a") + ods_cell("string", "", "b")
    row = '<table:table-row table:number-rows-repeated="{}">{}</table:table-row>'
    full = (
        f"<table:table>{row.format(2, '<table:table-cell/>')}{row.format(2, cells)}{row.format(1, cells)}</table:table>"
    )
    found = rows_of(ods_with(empty + full + full), "sheet")
    assert [(one.line, one.cells) for one in found] == [  # type: ignore[union-attr]
        (3, ("a", "a", "b")), (4, ("a", "a", "b")), (5, ("a", "a", "b"))]  # fmt: skip
