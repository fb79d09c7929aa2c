"""rubrics/README.md: every YAML example loads and makes sense over our own rubrics, and its key reference is fresh.

`python -m tests.rubric.test_readme` writes the key reference anew.
"""

import re
from pathlib import Path

import pytest

from evaluator.rubric.diff import differences
from evaluator.rubric.file import key_reference
from evaluator.rubric.files.load import load_rubric
from evaluator.rubric.files.shop_file import load_shop
from evaluator.rubric.sense.check import check_path
from evaluator.store.folders import rubrics_folder
from tests.known import shipped

README = rubrics_folder() / "README.md"
HEADING = "**Bold** keys must be there."
EXAMPLES = re.findall(r"```yaml\n(.*?)```", README.read_text(encoding="utf-8"), re.DOTALL)


def name_of(example: str) -> str:
    return re.sub(r"\W+", "_", example[:60])


@pytest.mark.parametrize("example", EXAMPLES, ids=name_of)
def test_an_example_is_right(example: str, tmp_path: Path) -> None:
    path = tmp_path / "mine.yaml"
    path.write_text(example, encoding="utf-8")
    assert check_path(path, rubrics_folder()).text() == ""
    if example.startswith("extends: violin"):
        before = shipped("violin")
        after, problems = load_rubric(rubrics_folder(), "violin", [path])
        assert problems == ()
        assert before is not None
        assert after is not None
        assert differences(before, after)
    if example.startswith("extends: default"):
        shop, problems = load_shop(path, rubrics_folder() / "shop.yaml")
        assert problems == ()
        assert shop is not None
        assert shop.rates["set_up"].likely == 70


def test_the_mistake_it_shows_is_told_like_that(tmp_path: Path) -> None:
    path = tmp_path / "mine.yaml"
    path.write_text(EXAMPLES[0].replace("    weight:", "    wieght:"), encoding="utf-8")
    told = [str(one).replace(f"{tmp_path}/", "") for one in check_path(path, rubrics_folder()).problems]
    assert told == ['mine.yaml:7:5 change of "fingerboard_end": unknown key "wieght". Did you mean "weight"?']
    assert told[0] in README.read_text(encoding="utf-8")


def test_there_is_an_example_of_every_kind() -> None:
    text = "\n".join(EXAMPLES)
    for key in ("change:", "drop:", "standards:", "checks:", "jobs:", "measure:", "count:", "rate:", "formula:",
                "relevant_if:", "postponed_by:", "causes:", "examples:", "rates:"):  # fmt: skip
        assert key in text, key


def test_the_key_reference_is_fresh() -> None:
    head, _, reference = README.read_text(encoding="utf-8").partition(HEADING)
    assert head
    assert reference.split("\n\n", 1)[1].strip() == key_reference().strip()


if __name__ == "__main__":
    text, heading, rest = README.read_text(encoding="utf-8").partition(HEADING)
    sentence = rest.split("\n\n", 1)[0]
    README.write_text(f"{text}{heading}{sentence}\n\n{key_reference().rstrip()}\n", encoding="utf-8")
