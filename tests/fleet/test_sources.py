"""Where a fleet comes from: folders, archives and sheets, and what is told of those that are none."""

import zipfile
from io import BytesIO
from pathlib import Path

import pytest

from evaluator.assessment.observing.case import Case
from evaluator.fleet.judging import read_source
from evaluator.fleet.sources import Source, from_content, from_paths
from tests.fleet.fleets import EXAMPLES, zipped

GOOD = EXAMPLES[0].read_bytes()
SHEET = """family,tag,size,body_length (mm),purfling,purfling.note,scroll_carving,asking,currency
violin,R-01,4/4,355; 356,Inlaid,"clean, all round",4,780,usd
fiddle,R-02,3/4,,painted,,,,
"""


def told(source: Source) -> str:
    return " ".join(map(str, source.problems))


def case_of(source: Source) -> Case:
    found = read_source(source)
    assert isinstance(found[1], Case), found
    return found[1]


def test_a_folder_gives_its_evaluations_by_name_and_nothing_else(tmp_path: Path) -> None:
    for name in ("b.yaml", "a.yml", "deep/c.json", "sales.csv", "photo.jpg", ".hidden.yaml", ".git/d.yaml"):
        path = tmp_path / name
        path.parent.mkdir(exist_ok=True)
        path.write_bytes(GOOD)
    names = [Path(one.name).name for one in from_paths([str(tmp_path)])]
    assert names == ["a.yml", "b.yaml", "c.json"]


def test_an_archive_gives_its_evaluations() -> None:
    packed = zipped({"rack/2.yaml": GOOD, "rack/1.yaml": GOOD, "notes.txt": b"x", "__MACOSX/rack/1.yaml": b"x"})
    assert [one.name for one in from_content(packed, "rack.zip")] == ["rack.zip/rack/1.yaml", "rack.zip/rack/2.yaml"]


@pytest.mark.parametrize(
    ("content", "said"),
    [
        (zipped({f"{i}.yaml": b"0" * 1_900_000 for i in range(30)}), "unpacks to more than"),
        (zipped({f"{i}.yaml": b"x" for i in range(2_001)}), "more than 2,000 files"),
        (zipped({"../out.yaml": GOOD}), "leads out of the archive"),
        (zipped({"photo.jpg": b"x"}), "no evaluation is in there"),
        (zipped({"in.yaml": zipped({"x.yaml": GOOD})}), "not a text file"),
        (b"PK\x03\x04 and then nothing of the kind", "damaged"),
    ],
    ids=["bomb", "many", "outside", "nothing", "nested", "broken"],
)
def test_what_is_wrong_with_an_archive_is_told(content: bytes, said: str) -> None:
    (only,) = from_content(content, "rack.zip")
    problems = only.problems or read_source(only)
    assert said in " ".join(map(str, problems))


def test_an_archive_that_lies_about_its_sizes_is_stopped_while_it_unpacks() -> None:
    true = zipped({"a.yaml": b"0" * 3_000_000})
    size = (3_000_000).to_bytes(4, "little")
    lying = true.replace(size, (2_000).to_bytes(4, "little"))
    assert zipfile.ZipFile(BytesIO(lying)).infolist()[0].file_size == 2_000
    (only,) = from_content(lying, "rack.zip")
    assert "damaged" in told(only)


def test_a_sheet_holds_an_instrument_a_row() -> None:
    first, second = from_content(SHEET.encode(), "rack.csv")
    case = case_of(first)
    assert (case.title, case.instrument.size, str(case.asking and case.asking.amount)) == ("R-01", "4/4", "780.00")
    (length,), (border,) = case.observations["body_length"], case.observations["purfling"]
    assert length.reading is not None
    assert (length.reading.values, border.outcome, border.note) == ((355.0, 356.0), "inlaid", "clean, all round")
    assert case.observations["scroll_carving"][0].reading is not None
    assert case_of(second).instrument.size == "3/4"
    assert case_of(second).rubric == "violin", "the trade's word for it"


@pytest.mark.parametrize(
    ("sheet", "place", "said"),
    [
        ("rubric,purfling\nviolin,gone\n", "rack.csv:2:2", "not one of its answers"),
        ("rubric,perfling\nviolin,inlaid\n", "rack.csv:2:2", 'Did you mean "purfling"?'),
        ("rubric,asking\nviolin,1.450.1\n", "rack.csv:2:2", "points and commas"),
        ("rubric,size\nviolin,9/4\n", "rack.csv:2:2", "not one of the choices"),
        ("rubric\nukulele\n", "rack.csv:2:1", "is not a family"),
        ("rubric,title\n,nameless\n", "rack.csv:2:1", "nothing says what it is"),
        ("title,size\nR-01,4/4\n", "rack.csv:1:1", "no column says"),
        ("rubric,title,name\nviolin,a,b\n", "rack.csv:1:3", "there twice"),
    ],
)
def test_what_is_wrong_in_a_sheet_is_told_with_line_and_column(sheet: str, place: str, said: str) -> None:
    (only,) = from_content(sheet.encode(), "rack.csv")
    problems = only.problems or read_source(only)
    assert str(problems[0]).startswith(place), problems
    assert said in str(problems[0])
