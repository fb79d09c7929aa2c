"""Every message of the catalogue comes out, at its place and in its words, for a rubric that is wrong in that one way.

The sentences lie in sentences.txt, one a line, so that they can be read aloud; `python -m tests.rubric.test_catalogue`
writes them anew, and the change is to be read before it is kept.
"""

import tempfile
from pathlib import Path

import pytest

from evaluator.rubric.sense.check import check_path
from evaluator.rubric.sense.messages import CATALOGUE, CHAPTERS, catalogue_text
from tests.rubric.mistakes import MISTAKES, Mistake, spoilt
from tests.rubric.small import write_rubrics

SENTENCES = Path(__file__).parent / "sentences.txt"
# Told elsewhere: of whole files (test_load, test_document), overlays (test_overlay), readings (test_formula), and what
# no file can say (tests/basis/typed); of a shop over another in other money (test_whose_figures).
ELSEWHERE = {
    "document.empty", "document.not_a_mapping", "file.unreadable", "formula.empty", "formula.not_finite",
    "formula.root", "formula.zero", "hours.nothing", "money.negative", "money.nothing", "number.not_whole",
    "number.two_readings", "overlay.already_there", "overlay.extends_nothing", "overlay.extends_unknown",
    "file.old_name", "file.gone_name", "rubric.no_family", "shop.exchange",
}  # fmt: skip


def sentence(mistake: Mistake, folder: Path) -> str:
    """What is told of the mistake, exactly once, with the folder cut off."""
    root = write_rubrics(folder, **spoilt(mistake))
    told = check_path(root, root)
    found = [str(one) for one in told.problems if one.code == mistake.code]
    assert len(found) == 1, (mistake.code, found, [str(one) for one in told.problems])
    return found[0].replace(f"{folder}/", "")


@pytest.mark.parametrize("mistake", MISTAKES, ids=lambda one: one.code)
def test_a_mistake_is_told_at_its_place(mistake: Mistake, tmp_path: Path) -> None:
    wanted = dict(line.split(" | ", 1) for line in SENTENCES.read_text(encoding="utf-8").splitlines())
    assert sentence(mistake, tmp_path) == wanted[mistake.code]


def test_every_message_has_its_mistake() -> None:
    made = [mistake.code for mistake in MISTAKES]
    assert len(made) == len(set(made))
    assert set(made) | ELSEWHERE == set(CATALOGUE)
    assert not set(made) & ELSEWHERE


def test_no_code_belongs_to_two_chapters() -> None:
    assert sum(len(messages) for _, messages in CHAPTERS) == len(CATALOGUE)


def test_a_sound_rubric_is_passed_in_silence(tmp_path: Path) -> None:
    root = write_rubrics(tmp_path)
    assert check_path(root, root).problems == ()


def test_the_catalogue_reads_aloud() -> None:
    text = catalogue_text()
    assert 'shape.unknown_key: unknown key "<key>".' in text
    assert "{" not in text.replace("starts with { or [", "")
    for code, message in CATALOGUE.items():
        assert f"  {code}: " in text
        assert message.what.endswith((".", "?")), code
        assert message.what[0].islower() or message.what[0] in '"{&', code  # goes on after 'check "x": '
        assert not message.do or message.do[0].isupper() or message.do[0] == "{", code


if __name__ == "__main__":
    lines = []
    for one in MISTAKES:
        with tempfile.TemporaryDirectory() as name:
            lines.append(f"{one.code} | {sentence(one, Path(name))}")
    SENTENCES.write_text("\n".join(lines) + "\n", encoding="utf-8")
