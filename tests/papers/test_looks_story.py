"""The looks to take along: every question with its boxes, a reading with its line, drawings, and room to write."""

import re
from io import BytesIO

import pytest
from pypdf import PdfReader

from evaluator.papers.blocks import CautionBlock, Heading, TakenLook
from evaluator.papers.looks_story import looks_paper
from evaluator.papers.printing.pdf import draw
from evaluator.rubric.glossary import Glossary, load_glossary
from evaluator.store.folders import rubrics_folder
from tests.known import shipped

KINDS = ("choice", "measure", "count", "rate")


@pytest.mark.parametrize("family", ["violin", "bow"])
def test_every_look_can_be_ticked_measured_and_written_on(family: str) -> None:
    rubric = shipped(family)
    glossary, more = load_glossary(rubrics_folder() / "glossary.yaml")
    assert glossary is not None, more
    asked = [check for check in rubric.checks.values() if check.kind in KINDS]
    checks = [check for kind in KINDS for check in asked if check.kind == kind][:: max(1, len(asked) // 12)]
    paper = looks_paper(rubric, checks, name="Red violin", glossary=glossary, standard=lambda _: "3 to 4 mm")
    looks = [block for block in paper.blocks if isinstance(block, TakenLook)]
    assert [look.ask for look in looks] == [check.ask for check in checks]
    for look, check in zip(looks, checks, strict=True):
        assert look.choices[-1] == "Cannot tell"
        assert bool(look.reading) == (check.kind != "choice")
        assert bool(look.sheets) == (check.drawing is not None)
        assert not check.term or look.means
    text = squeezed("".join(page.extract_text() for page in PdfReader(BytesIO(draw(paper))).pages))
    for look in looks:
        assert squeezed(look.ask) in text
        assert all(squeezed(say) in text for say in look.choices)
    cautions = {line for check in checks for line in rubric.caution_texts(check)}
    assert all(squeezed(line) in text for line in cautions)
    assert draw(paper, "Letter") == draw(paper, "Letter")


@pytest.mark.parametrize("family", ["violin", "viola", "cello", "bow"])
def test_what_must_be_safe_stands_first_with_its_cautions(family: str) -> None:
    rubric = shipped(family)
    assert rubric.safety is not None
    checks = [rubric.checks[name] for name in rubric.safety_checks]
    checks += [check for check in rubric.checks.values() if check.under_tension][:2]
    blocks = looks_paper(rubric, checks, name="", glossary=Glossary(()), standard=lambda _: None).blocks
    headings = [block.text for block in blocks if isinstance(block, Heading)]
    assert headings[1:3] == [rubric.safety.say, "Then the rest"]
    kinds = [type(block) for block in blocks]
    rest = blocks.index(next(block for block in blocks if isinstance(block, Heading) and block.text == "Then the rest"))
    assert kinds.index(CautionBlock) < kinds.index(TakenLook) < rest
    assert sum(isinstance(block, TakenLook) for block in blocks[:rest]) == len(rubric.safety_checks)
    said = [text for block in blocks if isinstance(block, CautionBlock) for text in block.texts]
    assert len(said) == len(set(said))


def squeezed(text: str) -> str:
    """Without white space and the foot of a page, which the text of a look may run across."""
    return re.sub(r"\s+", "", re.sub(r"Red violin\s*page \d+ of\s*\d*", "", text))
