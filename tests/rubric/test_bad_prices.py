"""Shop files and jobs that would make a wrong quote: refused on the command line, each in one sentence at its place."""

import subprocess
import sys
from pathlib import Path

import pytest

from evaluator.store.folders import rubrics_folder
from tests.rubric.small import JOBS, SHOP, write_rubrics

EXAMPLE = rubrics_folder() / "examples" / "student_violin_cut_corners.yaml"


def evaluator(*words: object) -> tuple[int, str, str]:
    """Exit code, standard output, standard error."""
    code = "from evaluator.cli.main import main; main()"
    ran = subprocess.run(
        [sys.executable, "-c", code, *map(str, words)], capture_output=True, text=True, timeout=60, check=False
    )
    return ran.returncode, ran.stdout, ran.stderr


@pytest.mark.parametrize(
    ("sound", "wrong", "sentence"),
    [
        ("set_up: {low: 60", "set_up: {low: -60", "shop.yaml:4:17 -60 is too small. Write a number of at least 0."),
        ("currency: USD", "currency: USD\ncurrency: EUR",
         'shop.yaml:3:1 the key "currency" is written twice, first in line 2. Keep one of them.'),
        ("currency: USD", "currency: [USD, EUR]",
         'shop.yaml:2:11 a list is not a text. Put it in quotes, for example "a list".'),
        ("currency: USD", "currency: USD\ntax: {labour: 1.3}",
         "shop.yaml:3:15 1.3 is too large. Write a number below 1."),
    ],
)  # fmt: skip
def test_a_shop_file_that_cannot_be_meant_prices_nothing(tmp_path: Path, sound: str, wrong: str, sentence: str) -> None:
    path = tmp_path / "shop.yaml"
    path.write_text(SHOP.replace(sound, wrong), encoding="utf-8")
    code, out, told = evaluator("score", EXAMPLE, "--shop", path)
    assert (code, out) == (1, ""), told
    assert told.strip().endswith(sentence)
    assert len(told.strip().splitlines()) == 1


def test_a_job_that_requires_itself_is_told(tmp_path: Path) -> None:
    jobs = JOBS.replace("    forces: [{job", "    requires: [bridge_new]\n    forces: [{job")
    code, _, told = evaluator("rubric", "check", write_rubrics(tmp_path, jobs=jobs))
    assert code == 1
    assert 'the job "bridge_new" names itself under requires. Take it out.' in told


def test_an_asking_price_in_another_currency_is_told_and_compared_with_nothing(tmp_path: Path) -> None:
    path = tmp_path / "evaluation.yaml"
    path.write_text(EXAMPLE.read_text(encoding="utf-8").replace("currency: USD", "currency: EUR"), encoding="utf-8")
    code, out, told = evaluator("score", path)
    assert (code, told) == (0, "")
    assert "The prices are not all in USD, the currency of the work: give them in USD to compare them." in out
