"""The drawing of a check on its card: words for everybody, and a page that stays light."""

from typing import Any

import pytest

from evaluator.rubric.rubric import Rubric
from evaluator.web.looking.cards import Card, cards_of, shown
from evaluator.web.looking.forms import asked_parts
from evaluator.web.service import Service, case_of

HEAVIEST_PAGE = 60_000  # characters of drawings


def cards(rubric: Rubric, part: str) -> tuple[Card, ...]:
    start = {"size": rubric.default_size, "style": "classical", "tier": "student", "looker": "luthier"}
    said: dict[str, Any] = {"start": start, "answers": {}}
    case, _ = case_of(rubric, said)
    mine, others = cards_of(rubric, part, said, case)
    return (*mine, *others)


@pytest.mark.parametrize("family", ["violin", "viola", "cello", "bow"])
def test_drawings_do_not_make_a_page_heavy(service: Service, family: str) -> None:
    rubric = service.rubric(family)
    drawn = 0
    for part in asked_parts(rubric):
        sizes = [len(sheet.drawn) for card in cards(rubric, part) if card.shown for sheet in card.shown.sheets]
        assert sum(sizes) < HEAVIEST_PAGE, part
        drawn += len(sizes)
    assert drawn > 20


def test_a_card_says_right_and_wrong_in_words(service: Service) -> None:
    rubric = service.rubric("violin")
    (card,) = (card for card in cards(rubric, "safety") if card.check.check == "bridge_stance")
    assert card.shown is not None
    good, bad = card.shown.sheets
    assert (good.judged, bad.judged) == ("Right", "Wrong")
    assert good.caption != bad.caption
    assert f'aria-label="Drawing: {card.shown.title}. As it should be."' in good.drawn


def test_a_check_without_a_drawing_has_none(service: Service) -> None:
    rubric = service.rubric("violin")
    for card in cards(rubric, "tail"):
        assert (card.shown is None) == (card.check.drawing is None)


def test_the_sheets_of_a_drawing_stand_level() -> None:
    views = {sheet.drawn.split('viewBox="')[1].split('"')[0] for sheet in shown("bridge_stance").sheets}
    assert len(views) == 1
