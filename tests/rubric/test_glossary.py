"""The glossary: sound, and nothing of the trade stands on a page, a paper or in a rubric that it does not tell.

`python -m tests.rubric.test_glossary` writes its schema anew.
"""

import json
import re
from pathlib import Path

import jsonschema
import pytest

import evaluator
from evaluator.basis.document import parse_document
from evaluator.drawings.registry import DRAWINGS
from evaluator.rubric.files.load import family_names
from evaluator.rubric.glossary import Glossary, Word, glossary_schema, load_glossary
from evaluator.rubric.sense.check import check_path
from evaluator.store.folders import rubrics_folder, templates_folder
from tests.known import shipped
from tests.rubric.small import write_rubrics

FILE = rubrics_folder() / "glossary.yaml"
SCHEMA = rubrics_folder() / "glossary.schema.json"
# Words that are spoken in workshops and hardly elsewhere: wherever one of them is written, somebody may not know it.
TRADE = """
afterlength, appraisal, appraiser, appui, arching, attribution, baroque, bass bar, belly, bout, bridge, bushed,
bushing, caliper, camber, casein, centre joint, certificate, chin rest, CITES, cleat, consignment, corner block,
crackle, divot, dowel, ebony, eliminator, end button, endpin, eyelet, f-hole, false string, fine tuner, fingerboard,
flame, frog, graduation, graft, hairline, harmonic, heel, hide glue, inlaid, laminated, lining, loupe, luthier,
maple, medullary ray, mensur, mitre, mortise, mute, neck reset, neck set, neck stop, nut, overhang, overstand,
parchment, patina, peg, pegbox, pernambuco, polyurethane, projection, provenance, purfling, quarter-sawn, reamer,
rehair, retouch, revarnished, rib, rosewood, rosin, saddle, scoop, scroll, seam, set-up, shellac, shim, shoulder
rest, snakewood, sound hole, soundpost, spliced, spline, spruce, string length, tail cord, tailgut, tailpiece, thumb
leather, tip plate, tolerance, tortoiseshell, trade-in, undercut, varnish, veneer, warped, wolf, woodworm, collar,
drone, ebonised, facet, jujube, lacquer, lapping, nautilus, spiral, taper, template
"""
TERMS = [term for line in TRADE.replace("\n", " ").split(",") for term in [line.strip()] if term]


@pytest.fixture(scope="module")
def glossary() -> Glossary:
    found, problems = load_glossary(FILE)
    assert found is not None, problems
    return found


def texts() -> dict[str, str]:
    """Everything that is shown, by its file: rubrics, pages, and the modules that word things."""
    code = Path(evaluator.__file__).parent
    rubrics = [path for name in ("checks", "jobs", "families") for path in (rubrics_folder() / name).glob("*.yaml")]
    paths = [*rubrics, *templates_folder().rglob("*.html"), *(code / "wording").rglob("*.py")]
    paths += [*(code / "papers").rglob("*.py"), rubrics_folder() / "classes.yaml"]
    return {str(path): path.read_text(encoding="utf-8") for path in paths}


def test_it_is_sound_and_its_schema_is_true_and_fresh() -> None:
    assert check_path(FILE, rubrics_folder()).text() == ""
    document, _ = parse_document(FILE.read_bytes(), FILE.name)
    assert document is not None
    jsonschema.Draft202012Validator(glossary_schema()).validate(json.loads(json.dumps(document.data)))
    assert json.loads(SCHEMA.read_text(encoding="utf-8")) == glossary_schema()


@pytest.mark.parametrize("family", family_names(rubrics_folder()))
def test_every_term_of_a_check_is_told(glossary: Glossary, family: str) -> None:
    rubric = shipped(family)
    terms = {check.term for check in rubric.checks.values() if check.term}
    assert [term for term in sorted(terms) if glossary.called(term) is None] == []


@pytest.mark.parametrize(
    ("check", "wanted"),
    [
        ("projection_dynamic", "carrying power"),
        ("fingerboard_edge", "edge of the board"),
        ("fingerboard_camber", "radius of the board"),
        ("bridge_radius", "curve of the bridge"),
        ("opened_before", "opened body"),
        ("bow_nose", "nose and cheeks"),
        ("bow_camber", "camber"),
    ],
)
def test_a_word_that_means_two_things_is_told_for_this_one(glossary: Glossary, check: str, wanted: str) -> None:
    """Projection is of the neck and of the sound; the camber of a bow is no curve of a board."""
    rubric = shipped("bow" if check.startswith("bow_") else "violin")
    word = glossary.called(rubric.checks[check].term or "")
    assert word is not None and word.term == wanted


def test_every_word_of_the_trade_that_is_written_is_told(glossary: Glossary) -> None:
    written = "\n".join(texts().values()).replace("_", " ")
    missing = [term for term in TERMS if _stands(term, written) and glossary.called(term) is None]
    assert missing == []
    assert sum(_stands(term, written) for term in TERMS) > 80, "the scan finds what is there"


def _stands(term: str, text: str) -> bool:
    return re.search(rf"(?<![\w-]){re.escape(term)}(s|es)?(?![\w-])", text, re.IGNORECASE) is not None


def test_meanings_are_short_and_plain(glossary: Glossary) -> None:
    for word in glossary.words:
        assert len(word.means.split()) <= 40, word.term
        assert word.drawing is None or word.drawing in DRAWINGS
    assert len(glossary.words) > 140
    assert len({word.slug for word in glossary.words}) == len(glossary.words)


def test_a_text_is_parted_at_its_words() -> None:
    words = Glossary(
        (
            Word(term="soundpost", means="A stick.", also=("sound post",), everyday=("post",)),
            Word(term="peg", means="A key."),
            Word(term="peg box", means="A box."),
        )
    )
    text = "The soundposts, a post and the Peg box: pegs, peg-like."
    parts = list(words.parted(text))
    assert "".join(part for part, _ in parts) == text
    assert [(part, word.term) for part, word in parts if word] == [
        ("soundposts", "soundpost"), ("Peg box", "peg box"), ("pegs", "peg"),
    ]  # fmt: skip
    assert words.called("post") is words.words[0]
    assert words.called("peg boxes, old") is words.words[2]
    assert words.called("lid of the peg") is words.words[1]
    assert words.called("lid") is None
    assert list(Glossary(()).parted("peg")) == [("peg", None)]


def test_a_mistake_is_told_with_its_line(tmp_path: Path) -> None:
    root = write_rubrics(tmp_path, words="glossary:\n  - term: bridge\n    means: It stands.\n    draws: bridge\n")
    (one,) = check_path(root, root).problems
    assert "glossary.yaml:4:5" in str(one)
    assert 'unknown key "draws"' in str(one)


if __name__ == "__main__":
    SCHEMA.write_text(json.dumps(glossary_schema(), indent=1) + "\n", encoding="utf-8")
