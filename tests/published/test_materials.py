"""Peg woods by the tables, protected materials by their public lists.

Hardness and shrinkage: wood-database.com (boxwood, ebony), Chudnoff's sheets on tropical timbers, Forest Products
Laboratory (rosewood, 3,170 lbf dry), Wood Handbook FPL-GTR-190 (hard maple), all read in excerpt. Lists: the appendices
of CITES as they stood in early 2026, from memory; rules change, and the rubrics say "check the current rule".
"""

import re

import pytest

from evaluator.lutherie.seasons.wood import SPECIES, coefficient_from_shrinkage
from evaluator.rubric.files.load import family_names
from evaluator.rubric.sense.whole import whole_slips
from evaluator.store.folders import rubrics_folder
from tests.known import shipped

LBF = 4.44822


@pytest.mark.parametrize(
    ("wood", "newton"), [("boxwood", 13_080), ("ebony", 14_320), ("rosewood", 3_170 * LBF), ("sugar_maple", 6_450)]
)
def test_side_hardness(wood: str, newton: float) -> None:
    found = SPECIES[wood].hardness_n
    assert found is not None
    assert found == pytest.approx(newton, rel=0.001)


def test_boxwood_is_harder_than_maple_and_moves_more_than_ebony_and_both_opinions_are_said() -> None:
    """Some makers call boxwood a little softer than maple (common practice); the table says twice as hard."""
    box, ebony, maple = (SPECIES[name] for name in ("boxwood", "ebony", "sugar_maple"))
    assert box.hardness_n and ebony.hardness_n and maple.hardness_n
    assert 2 * maple.hardness_n < box.hardness_n < ebony.hardness_n
    assert box.tangential and ebony.tangential
    assert box.tangential == pytest.approx(coefficient_from_shrinkage(11.2), abs=6e-7)
    assert box.tangential > ebony.tangential
    assert "gentler" in box.doubt and "twice as hard" in box.doubt


LISTED = ("ivory", "tortoiseshell", "whalebone", "pernambuco", "rosewood", "lizard", "nautilus")


@pytest.mark.parametrize("name", family_names(rubrics_folder()))
def test_what_is_listed_is_named_with_the_current_rule(name: str) -> None:
    rubric = shipped(name)
    caution = rubric.cautions["protected_species"].say
    assert all(word in caution.lower() for word in LISTED)
    assert re.search(r"[Cc]heck the current rule", caution)
    assert not [slip for slip in whole_slips(rubric) if slip.words.get("caution") == "protected_species"]
