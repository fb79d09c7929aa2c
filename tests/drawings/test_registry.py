"""Every drawing keeps to its sheet, says in words what it shows, has a name of its own, and is on some card."""

import re
from collections import Counter
from pathlib import Path
from xml.etree import ElementTree

import pytest
import yaml

from evaluator.drawings.geometry.model import Drawing, Panel
from evaluator.drawings.geometry.pen import HEIGHT, WIDTH, Trace, Word
from evaluator.drawings.names import NAMES
from evaluator.drawings.registry import DRAWINGS, MODULES
from evaluator.drawings.svg import band, svg

RUBRICS = Path(__file__).parents[2] / "rubrics"
ALL = [(drawing, panel) for drawing in DRAWINGS.values() for panel in drawing.panels]
LARGEST_BYTES = 6000  # a page holds twenty checks
each_panel = pytest.mark.parametrize(("drawing", "panel"), ALL, ids=[f"{d.name}-{d.panels.index(p)}" for d, p in ALL])


def used() -> Counter[str]:
    """How often each drawing is named by a check that has a card: what is worked out is asked of nobody."""
    found: Counter[str] = Counter()
    for path in (RUBRICS / "checks").glob("*.yaml"):
        checks = yaml.safe_load(path.read_text(encoding="utf-8")).get("checks", ())
        found.update(check["drawing"] for check in checks if "drawing" in check and "formula" not in check)
    return found


def test_no_two_drawings_share_a_name() -> None:
    names = [drawing.name for module in MODULES for drawing in module.DRAWINGS]
    assert len(names) == len(set(names)) == len(DRAWINGS)


def test_every_drawing_is_on_a_card_and_every_card_finds_its_drawing() -> None:
    assert set(used()) == set(DRAWINGS)


@each_panel
def test_a_sheet_holds_all_of_its_lines(drawing: Drawing, panel: Panel) -> None:
    for shape in panel.shapes():
        for x, y in shape.points() if isinstance(shape, Trace) else ((shape.x, shape.y),):
            assert -0.5 <= x <= WIDTH + 0.5 and -0.5 <= y <= HEIGHT + 0.5, (shape.mark, x, y)


@each_panel
def test_a_word_stays_on_the_sheet(drawing: Drawing, panel: Panel) -> None:
    for shape in panel.shapes():
        if isinstance(shape, Word):
            wide = 8.2 * len(shape.text)  # no letter of a sans at 15 units is wider on the average
            left = shape.x - {"start": 0, "middle": wide / 2, "end": wide}[shape.anchor]
            assert left >= 0 and left + wide <= WIDTH and shape.y >= 11, shape.text


@each_panel
def test_a_sheet_is_sound_xml_and_small(drawing: Drawing, panel: Panel) -> None:
    text = svg(panel.shapes(), f"{drawing.title} <&>")
    root = ElementTree.fromstring(text)
    assert root.get("aria-label") == f"{drawing.title} <&>"
    assert not [one for one in root.iter() if "style" in one.attrib]
    assert len(text) < LARGEST_BYTES


@each_panel
def test_a_sheet_has_something_to_look_at_and_says_it(drawing: Drawing, panel: Panel) -> None:
    assert any(shape.mark == "look" or getattr(shape, "fill", None) == "look" for shape in panel.shapes())
    assert 15 <= len(panel.caption) <= 110 and panel.caption.endswith(".") and panel.caption[0].isupper()
    assert 10 <= len(drawing.title) <= 80 and not drawing.title.endswith(".")


@pytest.mark.parametrize("drawing", DRAWINGS.values(), ids=list(DRAWINGS))
def test_panels_differ(drawing: Drawing) -> None:
    assert 1 <= len(drawing.panels) <= 3
    drawn = [panel.shapes() for panel in drawing.panels]
    assert len(set(drawn)) == len(drawn)
    if len(drawn) == 1:
        assert drawing.panels[0].judged is None


@pytest.mark.parametrize("drawing", DRAWINGS.values(), ids=list(DRAWINGS))
def test_what_is_cut_off_above_and_below_is_empty(drawing: Drawing) -> None:
    sheets = [panel.shapes() for panel in drawing.panels]
    top, height = band(sheets)
    assert top >= 0 and height >= 30 and top + height <= HEIGHT
    for shape in (shape for shapes in sheets for shape in shapes):
        for y in (y for _, y in shape.points()) if isinstance(shape, Trace) else (shape.y,):
            assert top - 0.5 <= y <= top + height + 0.5


@each_panel
def test_no_size_of_a_violin_is_told_to_a_cellist(drawing: Drawing, panel: Panel) -> None:
    words = [panel.caption, *(shape.text for shape in panel.shapes() if isinstance(shape, Word))]
    assert not [text for text in words if re.search(r"\d\s*(mm|cm|in|g)\b", text)]


def test_the_list_of_names_is_that_of_the_drawings() -> None:
    assert set(DRAWINGS) == NAMES
