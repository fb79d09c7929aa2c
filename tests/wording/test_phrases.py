"""Ways to reach somebody are taken out of what is printed; years, measures and prices stay."""

import pytest

from evaluator.wording.phrases import HIDDEN, without_reach


@pytest.mark.parametrize(
    "text",
    [
        "0171 555 01 23",
        "+49 171 5550123",
        "(0)171/5550123",
        "555-123-4567",
        "555.123.4567",
        "a.b@example.org",
        "00441715550123",
    ],
)
def test_what_reaches_somebody_is_taken_out(text: str) -> None:
    assert without_reach(f"Ask for Anna, {text}, at home") == f"Ask for Anna, {HIDDEN}, at home"


@pytest.mark.parametrize(
    "text",
    [
        "Bought in 1998 for 1,200",
        "355 168 112 206 mm",
        "Serial 4170012345",
        "0.85 mm",
        "built 1890-1910",
        "No. 0012",
        "2026-03-04",
    ],
)
def test_what_tells_of_the_instrument_stays(text: str) -> None:
    assert without_reach(text) == text
