"""The covering paragraph: drafted from what was found, edited, kept, and printed on page one of paper and quote."""

import pytest

from evaluator.papers.sections.front import MOST_COVERING, drafted
from evaluator.web.service import Service
from tests.papers.cases import pages_of
from tests.papers.golden.papers import example
from tests.web.conftest import Client


@pytest.mark.parametrize("name", ["good_body_raw_set_up", "bow_due_for_work", "photos_only", "viola_sixteen_inch"])
def test_a_draft_tells_what_was_found_with_the_papers_own_amounts(name: str) -> None:
    result, text = example(name), drafted(example(name))
    seen = sum(1 for check in result.checks if check.seen)
    assert f": {seen} of {len(result.checks)} checks" in text and len(text) < MOST_COVERING
    assert text.count("..") == 0 and "None" not in text
    if result.plan.lines and result.plan.invoice is not None:
        assert f"{float(result.plan.invoice.total):,.0f}" in text


def test_from_the_draft_to_page_one(client: Client, service: Service, finished: str) -> None:
    page = client.get(f"/evaluations/{finished}/covering")
    assert "This is a draft" in page.text and "checks" in page.form("/covering")["text"]
    plain = client.http.get(f"/evaluations/{finished}/report.pdf?for=buyer").data
    assert "My own words" not in pages_of(plain)[0]
    page = client.send(page, {"text": "My own words <&> of Anna’s violin.\n\nAnd more."}, action="/covering")
    assert "Kept on" in page.text and page.form("/covering")["text"].startswith("My own words <&>")
    for reader in ("buyer", "shop", "customer"):
        first = pages_of(client.http.get(f"/evaluations/{finished}/report.pdf?for={reader}").data)[0]
        assert "My own words <&>" in first and "And more." in first
    condition = client.http.get(f"/evaluations/{finished}/report.pdf?for=condition").data
    assert "My own words" not in " ".join(pages_of(condition)), "a condition report carries no advice"
    assert "checks" in client.get(f"/evaluations/{finished}/covering?anew=1").form("/covering")["text"]
    page = client.send(page, {"go": "off"}, action="/covering")
    assert "This is a draft" in page.text


def test_it_stands_on_the_quote_and_what_is_too_long_is_not_lost(client: Client, quote: str, finished: str) -> None:
    page = client.get(f"/evaluations/{finished}/covering")
    told = client.send(page, {"text": "x" * (MOST_COVERING + 1)}, 422, action="/covering")
    assert "page one has room for" in told.text and len(told.form("/covering")["text"]) == MOST_COVERING + 1
    client.send(page, {"text": "Dear Anna, your violin. 漢"}, action="/covering")
    assert "Dear Anna, your violin." in pages_of(client.http.get(f"/quotes/{quote}/quote.pdf").data)[0]
