"""The page of the budget curve: a sound page with a plot whose last step is the figure of its sentence."""

import re

from tests.web.conftest import Client


def test_the_steps_rise_in_money_and_score(client: Client, draft: str) -> None:
    page = client.get(f"/evaluations/{draft}/parts/bridge")
    names = [one.attributes["name"] for one in page.tree.find("input", type="radio", value="gaps")]
    client.send(page, {**dict.fromkeys(names, "gaps"), "go": "result"})
    for part in ("cracks", "neck", "whole", "inside"):
        page = client.get(f"/evaluations/{draft}/parts/{part}")
        first: dict[str, str] = {}
        for one in page.tree.find("input", type="radio"):
            first.setdefault(one.attributes["name"], one.attributes["value"])
        client.send(page, {**first, "go": "result"})
    page = client.get(f"/evaluations/{draft}/budget")
    steps, levels = page.tree.find("table")
    rows = [row.find("td") for row in steps.find("tr") if row.find("td")]
    money = [int(re.sub(r"\D", "", cells[1].text)) for cells in rows]
    score = [float(cells[2].text) for cells in rows]
    assert len(rows) > 1
    assert money == sorted(money)
    assert score == sorted(score)
    assert money[0] == 0
    assert str(money[-1]) in page.heading.replace(",", "")
    assert len(page.tree.find("svg")) == 2
    said = [row.find("strong")[0].text for row in levels.find("tr") if row.find("td")]
    assert said == ["Safe to play", "Up to the standard", "With all that is recommended"]


def test_nothing_seen_shows_no_curve(client: Client, draft: str) -> None:
    page = client.get(f"/evaluations/{draft}/budget")
    assert page.heading == "Too little was seen to say"
    assert page.tree.find("svg") == []
