"""Our own rubrics: nothing is wrong with them, and no doubtful standard makes a fault."""

import pytest

from evaluator.rubric.files.load import family_names
from evaluator.rubric.files.shop_file import load_shop
from evaluator.rubric.sense.check import check_path
from evaluator.store.folders import rubrics_folder
from tests.known import shipped


def test_nothing_is_wrong_with_ours() -> None:
    assert check_path(rubrics_folder(), rubrics_folder()).text() == ""


@pytest.mark.parametrize("name", family_names(rubrics_folder()))
def test_every_size_of_a_measured_check_has_limits_with_sources(name: str) -> None:
    rubric = shipped(name)
    for check in rubric.checks.values():
        if check.standard is None:
            continue
        for size in rubric.sizes:
            limits = rubric.limits(check, size, "classical")
            assert limits is not None, (check.check, size)
            assert limits.sources or check.sources, (check.check, size)


def test_the_default_shop_loads() -> None:
    shop, problems = load_shop(rubrics_folder() / "shop.yaml")
    assert problems == ()
    assert shop is not None
    assert shop.is_default
