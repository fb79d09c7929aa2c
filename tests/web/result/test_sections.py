"""The result is light and short, and what it folds away is all there: each section at an address of its own."""

from collections.abc import Mapping
from pathlib import Path
from typing import Any

import pytest

import evaluator.web
from evaluator.rubric.rubric import Rubric
from evaluator.rubric.written.checks import Outcome
from evaluator.store.evaluations import create, find, newest
from evaluator.web.result.findings import found_groups, good_seen
from evaluator.web.serve import load_demo
from evaluator.web.service import Service
from evaluator.wording.answer.folds import TITLES
from evaluator.wording.words import believed, title, unseen_by_part
from tests.web.conftest import NOW, Client
from tests.web.page import Page

STATIC = Path(evaluator.web.__file__).parent / "static"
MOST_RESULT, MOST_SECTION, MOST_SCRIPT = 60_000, 100_000, 30_000  # bytes; the result with its styles, scripts, drawings
CLASSES = ("sound", "acceptable", "fault", "disqualifying")
INSIDERS = ("of the weight", "standard uncertainty", "weightings", "% of the")


def badness(outcome: Outcome) -> tuple[int, float]:
    return CLASSES.index(outcome.class_), -(1.0 if outcome.worth is None else outcome.worth)


def worst(rubric: Rubric) -> Mapping[str, dict[str, str]]:
    """Every check at the outcome that is worth least."""
    return {
        name: {"outcome": max(check.outcomes.items(), key=lambda item: badness(item[1]))[0]}
        for name, check in rubric.checks.items()
        if check.outcomes
    }


def make_worst(service: Service, family: str) -> str:
    start = {"title": f"Worst {family}", "size": service.rubric(family).default_size, "style": "classical"}
    start |= {"tier": "student", "looker": "luthier", "asking": "900", "currency": "USD"}
    answers = worst(service.rubric(family))
    typed: dict[str, Any] = {"start": start, "answers": answers}
    name, answer = next(iter(answers.items()))
    typed["beside"] = {name: {"another": {**answer, "by": "Clara"}}}  # one look that two people answered
    return create(service.engine, family, typed, NOW)


def worked_out(service: Service, family: str) -> str:
    """The id of one whose result is worked out already, for a browser that waits seconds and no more."""
    identity = make_worst(service, family)
    kept = find(service.engine, identity)
    assert kept is not None
    service.result(kept)
    return identity


@pytest.fixture
def all_of_them(service: Service) -> list[str]:
    """The ids of the demo, and of a violin and a cello at which all is as bad as can be."""
    load_demo(service)
    for family in ("violin", "cello"):
        make_worst(service, family)
    return [one.id for one in newest(service.engine)]


def weight(client: Client, page: Page) -> int:
    """Bytes over the air: a page with its styles, scripts and drawings, but for what is fetched when it is opened."""
    shown = [one for name in ("script", "img") for one in page.tree.find(name)]
    sources = {one.attributes.get("src") for one in shown if one.attributes.get("loading") != "lazy"}
    sources |= {one.attributes.get("href") for one in page.tree.find("link")}
    total = len(page.source.encode())
    for source in sources - {None}:
        with client.http.get(str(source), headers={"Accept-Encoding": "gzip"}) as response:
            total += len(response.data)
    return total


def squeezed(text: str) -> str:
    """Without white space: a word that can be tapped stands in an element of its own."""
    return "".join(text.split())


def folds_in(page: Page) -> dict[str, str]:
    """The address of each folded section by its words."""
    lists = page.tree.find("ul", **{"class": "folded"})
    return {a.text: a.attributes["href"] for one in lists for a in one.find("a")}


def test_a_result_and_its_sections_are_light(client: Client, all_of_them: list[str]) -> None:
    seen = set()
    for identity in all_of_them:
        result = client.get(f"/evaluations/{identity}/result")
        assert weight(client, result) < MOST_RESULT, result.path
        for path in folds_in(result).values():
            section = client.get(path)
            assert len(section.source.encode()) < MOST_SECTION, path
            seen.add(path.rpartition("/")[2])
            if path.endswith("/why"):
                parts = folds_in(section).values()
                assert parts
                assert all(len(client.get(part).source.encode()) < MOST_SECTION for part in parts)
    assert seen == set(TITLES)


def test_no_script_is_heavy() -> None:
    scripts = list(STATIC.glob("*.js"))
    assert len(scripts) > 3
    assert [one.name for one in scripts if one.stat().st_size > MOST_SCRIPT] == []


def test_the_worst_has_sixty_findings_and_each_is_told(client: Client, service: Service) -> None:
    identity = make_worst(service, "violin")
    kept = find(service.engine, identity)
    assert kept is not None
    result = service.result(kept)
    found = believed(result)
    assert len(found) >= 60
    page = client.get(f"/evaluations/{identity}/result/found")
    for number, item in enumerate(found, 1):
        (row,) = page.tree.find("li", id=f"found-{number}")
        assert title(item) in row.text
    assert sum(len(group.found) for group in found_groups(result)) == len(found)


def test_every_answer_says_on_its_page_why_it_counts_so(
    client: Client, all_of_them: list[str], service: Service
) -> None:
    for identity in all_of_them[:4]:
        kept = find(service.engine, identity)
        assert kept is not None
        result = service.result(kept)
        parts = folds_in(client.get(f"/evaluations/{identity}/result/why")).values()
        told = {one.attributes.get("id") for path in parts for one in client.get(path).tree.find("h2")}
        assert {f"why-{check.check}" for check in result.checks if check.because} <= told


def test_what_was_not_looked_at_and_what_is_good_is_told_in_full(
    client: Client, all_of_them: list[str], service: Service
) -> None:
    for identity in all_of_them[:4]:
        kept = find(service.engine, identity)
        assert kept is not None
        result = service.result(kept)
        text = squeezed(client.get(f"/evaluations/{identity}/result/unseen").text)
        assert all(squeezed(item) in text for _, items in unseen_by_part(result) for item in items)
        text = squeezed(client.get(f"/evaluations/{identity}/result/good").text)
        good = good_seen(result, service.rubric(kept.rubric))
        assert all(squeezed(one.text) in text for one in good)
        bad = {item.check for item in result.findings if item.seen and item.level == "confirmed"}
        assert not bad & {one.check for one in good}


def test_the_first_screen_keeps_the_words_of_insiders_to_itself(client: Client, all_of_them: list[str]) -> None:
    for identity in all_of_them:
        text = client.get(f"/evaluations/{identity}/result").text
        assert [words for words in INSIDERS if words in text] == []


def test_a_line_says_what_its_section_holds(client: Client, all_of_them: list[str]) -> None:
    result = client.get(f"/evaluations/{all_of_them[0]}/result")
    for words, path in folds_in(result).items():
        section = client.get(path)
        assert words.startswith(section.heading)
        assert section.tree.find("a", href=result.path), "the way back"


def test_a_section_that_has_nothing_to_tell_says_so(client: Client, draft: str) -> None:
    result = client.get(f"/evaluations/{draft}/result")
    assert not [path for path in folds_in(result).values() if path.endswith(("/good", "/measured", "/uncounted"))]
    assert "nothing of this" in client.get(f"/evaluations/{draft}/result/good").text
    assert client.get(f"/evaluations/{draft}/result/moon", 404).heading == "There is no such page"
    assert client.get(f"/evaluations/{draft}/result/why/moon", 404).heading == "There is no such page"


def test_sections_of_a_finished_one_stay_as_they_were(client: Client, service: Service) -> None:
    identity = make_worst(service, "violin")
    names = [
        name for name in TITLES if name not in ("next", "found", "uncounted", "purchase")
    ]  # with links to look again
    before = {name: section_text(client, identity, name) for name in names}
    client.send(client.get(f"/evaluations/{identity}/result"), action="/finish")
    assert {name: section_text(client, identity, name) for name in names} == before


def section_text(client: Client, identity: str, name: str) -> str:
    return client.get(f"/evaluations/{identity}/result/{name}").tree.find("div", **{"class": "section"})[0].text
