"""Papers as they were looked at and kept: words, number of pages, tags, and how dark each spot is."""

import pytest

from tests.papers.golden.looks import KEPT, darkness, other_pages, read, told
from tests.papers.golden.papers import PAPERS, QUICK

HOW = "Look at the paper; where it is right, keep it: python -m tests.papers.golden {name}"
LONG = [pytest.param(name, marks=[] if name in QUICK else pytest.mark.long) for name in PAPERS]


@pytest.mark.paper
@pytest.mark.parametrize("name", LONG)
def test_a_paper_is_as_it_was_kept(name: str) -> None:
    paper, kept = PAPERS[name](), read(name)
    now, how = told(paper), HOW.format(name=name)
    assert now["pages"] == kept["pages"], how
    assert now["tags"] == kept["tags"], how
    assert other_pages(kept["darkness"], darkness(paper)) == [], how


@pytest.mark.paper
def test_a_line_that_moved_is_seen() -> None:
    kept, page = read("receipt"), darkness(PAPERS["receipt"]())[0]
    page[20:40] = page[21:41].copy()
    assert other_pages(kept["darkness"], [page]) == [1]


def test_what_is_kept_is_small_and_all_of_it_is_compared() -> None:
    files = sorted(KEPT.glob("*.json"))
    assert {path.stem for path in files} == set(PAPERS)
    assert sum(path.stat().st_size for path in files) < 400_000
