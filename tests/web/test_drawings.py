"""The drawing of a check on its card: a picture of its own, words for everybody, and a page that stays light."""

from typing import Any

import pytest

from evaluator.rubric.rubric import Rubric
from evaluator.web.looking.cards import Card, cards_of
from evaluator.web.looking.forms import asked_parts
from evaluator.web.looking.sheets import shown
from evaluator.web.service import Service, case_of
from tests.web.conftest import Client

MOST_PAGE = 100_000  # bytes, as it is sent


def cards(rubric: Rubric, part: str) -> tuple[Card, ...]:
    start = {"size": rubric.default_size, "style": "classical", "tier": "student", "looker": "luthier"}
    said: dict[str, Any] = {"start": start, "answers": {}}
    case, _ = case_of(rubric, said)
    mine, others = cards_of(rubric, part, said, case)
    return (*mine, *others)


@pytest.mark.parametrize("family", ["violin", "viola", "cello", "bow"])
def test_a_part_with_its_drawings_is_light(client: Client, service: Service, family: str) -> None:
    page = client.send(client.get(f"/new/{family}"), {"go": "parts", "looker": "luthier"})
    root = page.path.rpartition("/")[0]
    drawn: set[str] = set()
    for part in asked_parts(service.rubric(family)):
        page = client.get(f"{root}/{part}")
        assert len(page.source.encode()) < MOST_PAGE, part
        assert not page.tree.find("svg"), part
        drawn |= {one.attributes["src"] for one in page.tree.find("img")}
    assert len(drawn) > 20
    for address in drawn:
        with client.http.get(address) as response:
            assert (response.status_code, response.mimetype) == (200, "image/svg+xml"), address


def test_a_card_says_right_and_wrong_in_words(service: Service) -> None:
    rubric = service.rubric("violin")
    (card,) = (card for card in cards(rubric, "safety") if card.check.check == "bridge_stance")
    assert card.shown is not None
    good, bad = card.shown.sheets
    assert (good.judged, bad.judged) == ("Right", "Wrong")
    assert good.caption != bad.caption


def test_a_check_without_a_drawing_has_none(service: Service) -> None:
    rubric = service.rubric("violin")
    for card in cards(rubric, "tail"):
        assert (card.shown is None) == (card.check.drawing is None)


def test_the_sheets_of_a_drawing_stand_level_and_room_is_kept_for_them(client: Client) -> None:
    sheets = shown("bridge_stance").sheets
    views = {client.http.get(one.address).text.split('viewBox="')[1].split('"')[0] for one in sheets}
    (view,) = (tuple(float(one) for one in view.split()) for view in views)
    assert {(one.width, one.height) for one in sheets} == {(round(view[2] / 10), round(view[3] / 10))}
