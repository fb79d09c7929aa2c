"""A shop file that extends nothing has the figures of the default file where it says none: no two of them differ."""

import pytest

from evaluator.rubric.files.shop_file import load_shop
from evaluator.rubric.shop import Shop
from evaluator.store.folders import rubrics_folder

WRITTEN, _ = load_shop(rubrics_folder() / "shop.yaml")
HAS_A_FIRST_VALUE = (
    "sales", "keeping", "buying", "rush_share", "labour_correlation", "validity_days", "service_every_hours",
    "service_every_months", "service_at_latest_months", "private_share_of_ready_value", "money_with_luthier_counts",
)  # fmt: skip


@pytest.mark.parametrize("name", HAS_A_FIRST_VALUE)
def test_what_stands_first_is_what_the_default_file_says(name: str) -> None:
    assert WRITTEN is not None
    bare = Shop.model_validate({"shop": "Bare", "rates": WRITTEN.model_dump()["rates"]})
    assert getattr(bare, name) == getattr(WRITTEN, name)
