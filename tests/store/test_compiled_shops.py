"""The kept shop is the same as the one that is read, and is read anew when its file has another word."""

import hashlib
from pathlib import Path

import pytest

from evaluator.result.evaluation import shop_hash
from evaluator.rubric.files import shop_file
from evaluator.rubric.shop import Shop
from evaluator.store.folders import default_shop, rubrics_folder

BUILT_IN = rubrics_folder() / "shop.yaml"


@pytest.fixture(autouse=True)
def reads(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> list[Path]:
    """The files that were read."""
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path / "cache"))
    found: list[Path] = []
    load = shop_file.load_shop

    def noted(path: Path, default: Path | None = None) -> object:
        found.append(path)
        return load(path, default)

    monkeypatch.setattr(shop_file, "load_shop", noted)
    return found


def shop(path: Path) -> Shop:
    found, problems = default_shop(path)
    assert found is not None, problems
    return found


def test_it_is_read_once_and_is_the_same(reads: list[Path]) -> None:
    first, second = shop(BUILT_IN), shop(BUILT_IN)
    assert reads == [BUILT_IN]
    assert first is not second
    assert first == second == shop_file.load_shop(BUILT_IN, BUILT_IN)[0]
    assert shop_hash(first) == shop_hash(second)
    assert first.minimum_charge == second.minimum_charge
    assert first.borrowed == second.borrowed == ()


def test_another_word_is_read_and_a_mistake_told_every_time(tmp_path: Path, reads: list[Path]) -> None:
    mine = tmp_path / "shop.yaml"
    text = BUILT_IN.read_text("utf-8")
    mine.write_text(text, "utf-8")
    before = shop(mine)
    mine.write_text(text.replace("currency: USD", "currency: EUR"), "utf-8")
    assert (before.currency, shop(mine).currency) == ("USD", "EUR")
    mine.write_text("shop: []\n", "utf-8")
    told = [default_shop(mine)[1] for _ in range(2)]
    assert told[0] == told[1] != ()
    assert reads == [mine] * 4


def test_its_hash_is_that_of_its_figures_in_json(tmp_path: Path) -> None:
    mine = tmp_path / "mine.yaml"
    mine.write_text('extends: default\nshop: Gei\u011fe "&"\nminimum_charge: 12.50\n', "utf-8")
    found, problems = shop_file.load_shop(mine, BUILT_IN)
    assert found is not None, problems
    said = f"{found.model_dump_json(by_alias=True)}{','.join(found.borrowed)}"
    assert shop_hash(found) == hashlib.sha256(said.encode()).hexdigest()
