"""Several triggers of one possible extra read as one sentence that somebody would say."""

import pytest

from evaluator.estimate.extras import FOUND, one_sentence


@pytest.mark.parametrize(
    ("whens", "said"),
    [
        ([], ""),
        (["If the post falls."], "If the post falls."),
        (["If the post falls.", "If the seam is open."], "If the post falls, or if the seam is open."),
        (["If a.", "If b.", "If c."], "If a, or if b, or if c."),
        ([f"{FOUND}The bar is loose."], f"{FOUND}The bar is loose."),
        (
            [f"{FOUND}The bar is loose.", f"{FOUND}A crack runs there."],
            "If one of these is found: the bar is loose; a crack runs there.",
        ),
        (
            ["If the post falls.", f"{FOUND}The bar is loose."],
            "If the post falls, or if this is found: the bar is loose.",
        ),
        ([f"{FOUND}E string cuts in.", "If it buzzes."], "If it buzzes, or if this is found: E string cuts in."),
        (
            ["The mended place is coloured.", "If the seam is open."],
            "The mended place is coloured. Also if the seam is open.",
        ),
        (["The bridge follows.", "The post follows."], "The bridge follows. The post follows."),
    ],
)
def test_triggers_in_one_sentence(whens: list[str], said: str) -> None:
    assert one_sentence(whens) == said
