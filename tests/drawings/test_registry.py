"""Every drawing keeps to its sheet, says in words what it shows, has a name of its own, and is on some card."""

import re
from collections import Counter
from collections.abc import Sequence
from pathlib import Path
from xml.etree import ElementTree

import yaml

from evaluator.drawings.geometry.model import band
from evaluator.drawings.geometry.pen import HEIGHT, WIDTH, Point, Shape, Trace, Word
from evaluator.drawings.names import NAMES
from evaluator.drawings.registry import DRAWINGS, MODULES
from evaluator.drawings.svg import svg

RUBRICS = Path(__file__).parents[2] / "rubrics"
SHEETS = [
    (f"{drawing.name} {place}", drawing, panel)
    for drawing in DRAWINGS.values()
    for place, panel in enumerate(drawing.panels)
]
LARGEST_BYTES = 6000  # a page holds twenty checks
SIZE = re.compile(r"\d\s*(mm|cm|in|g)\b")


def used() -> Counter[str]:
    """How often each drawing is named by a check that has a card: what is worked out is asked of nobody."""
    found: Counter[str] = Counter()
    for path in (RUBRICS / "checks").glob("*.yaml"):
        checks = yaml.load(path.read_bytes(), yaml.CSafeLoader).get("checks", ())
        found.update(check["drawing"] for check in checks if "drawing" in check and "formula" not in check)
    return found


def test_no_two_drawings_share_a_name() -> None:
    names = [drawing.name for module in MODULES for drawing in module.DRAWINGS]
    assert len(names) == len(set(names)) == len(DRAWINGS)


def test_every_drawing_is_on_a_card_and_every_card_finds_its_drawing() -> None:
    assert set(used()) == set(DRAWINGS)


# One test looks at all the sheets and names each that is wrong; a test a sheet were 1,500, each as quick as another.


def points(shape: Shape) -> Sequence[Point]:
    return shape.points() if isinstance(shape, Trace) else ((shape.x, shape.y),)


def test_a_sheet_holds_all_of_its_lines() -> None:
    assert [
        (name, shape.mark, x, y)
        for name, _, panel in SHEETS
        for shape in panel.shapes()
        for x, y in points(shape)
        if not (-0.5 <= x <= WIDTH + 0.5 and -0.5 <= y <= HEIGHT + 0.5)
    ] == []


def stays(word: Word) -> bool:
    wide = 8.2 * len(word.text)  # no letter of a sans at 15 units is wider on the average
    left = word.x - {"start": 0, "middle": wide / 2, "end": wide}[word.anchor]
    return left >= 0 and left + wide <= WIDTH and word.y >= 11


def test_a_word_stays_on_the_sheet() -> None:
    words = [(name, shape) for name, _, panel in SHEETS for shape in panel.shapes() if isinstance(shape, Word)]
    assert len(words) > 20
    assert [(name, word.text) for name, word in words if not stays(word)] == []


def test_a_sheet_is_sound_xml_and_small() -> None:
    faults = []
    for name, drawing, panel in SHEETS:
        text = svg(panel.shapes(), f"{drawing.title} <&>")
        root = ElementTree.fromstring(text)
        if root.get("aria-label") != f"{drawing.title} <&>":
            faults.append((name, "label"))
        if [one for one in root.iter() if "style" in one.attrib]:
            faults.append((name, "style"))
        if len(text) >= LARGEST_BYTES:
            faults.append((name, f"{len(text)} bytes"))
    assert faults == []


def test_a_sheet_has_something_to_look_at() -> None:
    assert [
        name
        for name, _, panel in SHEETS
        if not any(shape.mark == "look" or getattr(shape, "fill", None) == "look" for shape in panel.shapes())
    ] == []


def test_a_sheet_says_in_a_sentence_what_it_shows() -> None:
    assert [
        (name, text)
        for name, text in ((name, panel.caption) for name, _, panel in SHEETS)
        if not (15 <= len(text) <= 110 and text.endswith(".") and text[0].isupper())
    ] == []
    titles = [drawing.title for drawing in DRAWINGS.values()]
    assert [title for title in titles if not 10 <= len(title) <= 80 or title.endswith(".")] == []


def test_panels_differ() -> None:
    for name, drawing in DRAWINGS.items():
        drawn = [panel.shapes() for panel in drawing.panels]
        assert 1 <= len(set(drawn)) == len(drawn) <= 3, name
        assert len(drawn) > 1 or drawing.panels[0].judged is None, name


def test_what_is_cut_off_above_and_below_is_empty() -> None:
    faults = []
    for name, drawing in DRAWINGS.items():
        sheets = [panel.shapes() for panel in drawing.panels]
        top, height = band(sheets)
        if not (top >= 0 and height >= 30 and top + height <= HEIGHT):
            faults.append((name, top, height))
        for shape in (shape for shapes in sheets for shape in shapes):
            faults += [(name, shape.mark, y) for _, y in points(shape) if not top - 0.5 <= y <= top + height + 0.5]
    assert faults == []


def test_no_size_of_a_violin_is_told_to_a_cellist() -> None:
    said = [(name, panel.caption) for name, _, panel in SHEETS]
    said += [(name, shape.text) for name, _, panel in SHEETS for shape in panel.shapes() if isinstance(shape, Word)]
    assert [(name, text) for name, text in said if SIZE.search(text)] == []


def test_the_list_of_names_is_that_of_the_drawings() -> None:
    assert set(DRAWINGS) == NAMES
