"""My opinions: checked before they count, told in words, tried on instruments, switched on and off again."""

from pathlib import Path

import pytest

from evaluator.cli.files import MistakesError, sound_overlays
from evaluator.store.evaluations import create
from evaluator.store.workshop.figures import newest_opinions
from evaluator.web.app import create_app
from evaluator.web.service import Service
from tests.web.conftest import NOW, Client

SOUND = "extends: violin\nby: Bench and Bow\nchange:\n  purfling: {minutes: 3}\n"
HARSH = "extends: violin\nby: Bench and Bow\nchange:\n  purfling: {outcomes: {painted: {worth: 0.0}}, weight: 5}\n"


def test_it_is_told_in_words_and_switched_on_and_off(client: Client, service: Service) -> None:
    before = service.rubric("violin").checks["purfling"].minutes
    page = client.send(client.get("/opinions"), {"text": SOUND, "go": "check"}, action="/opinions")
    assert "purfling" in page.text and "Bench and Bow" in page.text
    assert newest_opinions(service.engine).version == 0, "looking changes nothing"
    client.send(page, {"go": "on"}, action="/opinions")
    assert service.rubric("violin").checks["purfling"].minutes == 3
    assert service.rubric("cello").checks["purfling"].minutes != 3
    other = Service(service.engine, service.shop, now=service.now, _rubrics=service._rubrics)
    Client(create_app(other, "a key for tests")).get("/opinions")
    assert other.rubric("violin").checks["purfling"].minutes == 3, "another process follows"
    client.send(client.get("/opinions"), {"go": "off"}, action="/opinions")
    assert service.rubric("violin").checks["purfling"].minutes == before
    assert not newest_opinions(service.engine).on and newest_opinions(service.engine).text == SOUND


def test_what_is_not_sound_is_told_with_its_line_and_never_counts(client: Client, service: Service) -> None:
    wrong = SOUND.replace("purfling", "purfing")
    for go in ("check", "try", "on"):
        page = client.send(client.get("/opinions"), {"text": wrong, "go": go}, 422, action="/opinions")
        assert 'Line 4: there is nothing called "purfing" to change.' in page.text
        assert "purfing: {minutes: 3}" in page.source, "nothing typed is lost"
    assert newest_opinions(service.engine).version == 0


def test_it_is_tried_on_instruments_before_it_counts(client: Client, service: Service) -> None:
    start = {"title": "Painted one", "size": "4/4", "style": "classical", "tier": "student"}
    answers = {name: {"outcome": "painted"} for name in ("purfling",)}
    create(service.engine, "violin", {"start": start, "answers": answers}, NOW)
    page = client.send(client.get("/opinions"), {"text": HARSH, "go": "try"}, action="/opinions")
    assert "Who would be judged otherwise" in page.text
    assert newest_opinions(service.engine).version == 0


def test_two_tabs_do_not_overwrite_each_other(client: Client, service: Service) -> None:
    tabs = [client.get("/opinions") for _ in range(2)]
    client.send(tabs[0], {"text": SOUND, "go": "on"}, action="/opinions")
    page = client.send(tabs[1], {"text": HARSH, "go": "on"}, 409, action="/opinions")
    assert "Somebody saved opinions a moment ago" in page.text and "painted" in page.source
    assert newest_opinions(service.engine).text == SOUND


def test_overlays_of_the_start_are_checked_before_anything_begins(tmp_path: Path) -> None:
    good, bad = tmp_path / "good.yaml", tmp_path / "bad.yaml"
    good.write_text(SOUND, encoding="utf-8")
    bad.write_text(SOUND.replace("purfling", "purfing"), encoding="utf-8")
    assert sound_overlays([str(good)]) == (good.resolve(),)
    with pytest.raises(MistakesError):
        sound_overlays([str(bad)])


def test_what_is_switched_on_is_laid_over_what_it_was_started_with(
    client: Client, service: Service, tmp_path: Path
) -> None:
    (tmp_path / "started.yaml").write_text(SOUND, encoding="utf-8")
    service.overlays = (tmp_path / "started.yaml",)
    assert service.rubric("violin").checks["purfling"].minutes == 3
    client.send(client.get("/opinions"), {"text": SOUND.replace("3", "4"), "go": "on"}, action="/opinions")
    assert service.rubric("violin").checks["purfling"].minutes == 4
