"""What the luthier noted prints with tool, person and day, and a paper says which evaluation it is of."""

from dataclasses import replace

import pytest

from evaluator.papers import blocks as b
from evaluator.papers.printing.pdf import draw, report_pdf
from evaluator.papers.readers import Issued
from evaluator.result.json_form import read_result
from evaluator.result.model.result import Result
from evaluator.store.folders import rubrics_folder
from evaluator.wording.words import believed
from tests.papers.cases import FEW, pages_of, snapshot_of, text_of
from tests.papers.conformance import faults

GOOD = (rubrics_folder() / "examples" / "good_body_raw_set_up.yaml").read_text("utf-8")


def noted(result: Result, check: str, note: str) -> Result:
    """The same result with a note on every answer of this check."""
    checks = tuple(
        replace(
            one,
            observations=tuple(
                replace(answer, note=note, by="Ada Blum", at="2026-03-02T10:00:00Z", tool="feeler_gauge")
                for answer in one.observations
            ),
        )
        if one.check == check
        else one
        for one in result.checks
    )
    return replace(result, checks=checks)


@pytest.mark.parametrize("reader", ["buyer", "shop", "customer"])
def test_a_note_stands_on_the_paper_with_tool_person_and_day(reader: str) -> None:
    result = read_result(snapshot_of(GOOD))
    faults = [item.check for item in believed(result)]
    good = next(one.check for one in result.checks if one.observations and one.check not in faults)
    for check in (faults[0], good):
        text = text_of(report_pdf(noted(result, check, "Glue <b>ran</b> out here."), reader))
        assert "“Glue <b>ran</b> out here.” Feeler gauge, looked at by Ada Blum, 2 March 2026." in text


@pytest.mark.parametrize("reader", ["parent", "buyer", "annex"])
def test_a_paper_says_which_evaluation_it_is_of_and_a_draft_that_it_is_one(reader: str) -> None:
    result = read_result(snapshot_of(FEW))
    for draft, wanted in ((True, "Draft, answers may still change"), (False, "finished on 2 March 2026")):
        issued = Issued("3f2a", 4, "2026-03-02T10:00:00Z", draft=draft)
        pages = pages_of(report_pdf(result, reader, issued=issued))
        assert wanted in pages[0] and all("3f2a, version 4" in page for page in pages)


def test_a_workshops_address_stands_on_every_page_however_long() -> None:
    result = read_result(snapshot_of(FEW))
    own = replace(result, shop=replace(result.shop, is_default=False, name="Bow and Scroll " * 20))
    issued = Issued("3f2a", 4, "2026-03-02", draft=False, contact=("5 Mill Lane", "555-0100", "Tax 12"))
    for page in pages_of(report_pdf(own, "buyer", issued=issued)):
        assert "5 Mill Lane · 555-0100 · Tax 12" in " ".join(page.split()) and "Bow and Scroll" in page and "…" in page


def test_notes_of_1900_letters_on_every_finding_are_printed_and_shorter_papers_stay_short() -> None:
    result = read_result(snapshot_of(FEW))
    words = ("The crack runs along the grain and was glued before. " * 40)[:1890]
    checks = tuple(
        replace(check, observations=tuple(replace(one, note=f"{words} end{at}.") for one in check.observations))
        for at, check in enumerate(result.checks)
    )
    noted_ = replace(result, checks=checks)
    for reader in ("buyer", "condition"):
        pdf = report_pdf(noted_, reader)
        text = text_of(pdf)
        assert not faults(pdf)
        assert all(f"end{at}." in text for at, check in enumerate(checks) if check.observations)
    assert len(pages_of(report_pdf(noted_, "parent"))) == 2
    assert len(pages_of(report_pdf(noted_, "customer"))) <= 3


def test_a_long_name_is_set_smaller_before_the_title_is_cut() -> None:
    name = "Bench and Bow, makers and menders of violins, violas, celli and bows in the old mill at the river"
    logo = b.Paper("What we can offer", name, "Offer 1", (b.Paragraph("A violin"),), contact=("1 Hill Lane " * 14,))
    assert "What we can offer" in text_of(draw(logo)).partition("A violin")[0]
