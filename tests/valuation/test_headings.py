"""Names of columns and words: each is found as it stands in the tables, in capitals too, and means one thing."""

import pytest

from evaluator.valuation.sales.headings import (
    FAMILIES_SAID,
    FULL,
    HEADINGS,
    KINDS_SAID,
    MAKINGS_SAID,
    TIERS_SAID,
    column_of,
    plainly,
    word_of,
)

SAID = {"kind": KINDS_SAID, "family": FAMILIES_SAID, "tier": TIERS_SAID, "making": MAKINGS_SAID}


@pytest.mark.parametrize("name", HEADINGS)
def test_every_heading_leads_to_its_column(name: str) -> None:
    for heading in (name, *HEADINGS[name]):
        assert column_of(heading) == column_of(f" {heading.upper()} (USD): ") == name, heading


@pytest.mark.parametrize("column", SAID)
def test_every_word_leads_to_ours(column: str) -> None:
    for ours, words in SAID[column].items():
        for word in (ours, *words):
            assert word_of(word, SAID[column]) == word_of(f"{word.capitalize()}.", SAID[column]) == ours, word


def test_no_heading_and_no_word_has_two_meanings() -> None:
    for table in (HEADINGS, *SAID.values()):
        words = [word for ours, known in table.items() for word in {ours.replace("_", " "), *known}]
        assert sorted(words) == sorted(set(words))
        assert all(word == plainly(word) for word in words)
    assert all(word == plainly(word) for word in FULL)


def test_what_we_do_not_use_is_left_alone() -> None:
    assert column_of("Colour of the shop door") is None
    assert word_of("swap", KINDS_SAID) is None
