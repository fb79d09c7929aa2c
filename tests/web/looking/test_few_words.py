"""How many words stand on the screen of one look before anything is opened: question, drawing, caution, answers."""

import re
from collections.abc import Iterator

import pytest

from tests.web.conftest import Client
from tests.web.page import Element, Page

MOST = 60  # words of a look; "Look 3 of 15", "about 9 minutes" and "More" stand around it
FOR_ALL = "How? Note, photo. Later. Cannot tell."  # what looks.js puts on every look
VISITS = (("student", "in_person"), ("teacher", "in_person"), ("luthier", "in_person"), ("student", "photos"),
          ("student", "seller_statement"))  # fmt: skip
KEPT_BACK = frozenset({"details", "input", "textarea", "select"})


def words(text: str) -> int:
    return len(re.findall(r"\w\S*", text))


def standing(element: Element) -> str:
    """What can be read before anything is opened: of what is folded its first line alone."""
    shown = [part.text for part in element.find("summary")[:1]] if element.name == "details" else [
        part if isinstance(part, str) else standing(part) for part in element.children
        if isinstance(part, str) or part.name not in KEPT_BACK or part.name == "details"
    ]  # fmt: skip
    return " ".join(shown) + " " + element.attributes.get("data-judged", "")


def looks_of(page: Page) -> Iterator[tuple[str, int]]:
    """Each look that comes short, with the words that stand on it when the phone has made it whole."""
    lines = [line.find("span")[0].text for line in page.tree.find("ul", class_="cautions")[0].find("li")]
    for look in page.tree.find("section"):
        if not look.attributes.get("data-look") or "hidden" not in look.attributes:
            continue
        text = [standing(look), FOR_ALL]
        for careful in look.find("div", class_="careful"):
            numbers = careful.attributes["data-cautions"].split()
            line = careful.attributes.get("data-line")
            text += ["Caution", lines[int(numbers[int(line)])] if line else ""]
        text += ["Your reading. Keep." for _ in look.find("div", class_="typing")]
        yield look.attributes["data-look"], sum(map(words, text))


@pytest.mark.parametrize("family", ["violin", "viola", "cello", "bow"])
def test_a_look_of_a_usual_visit_is_read_at_a_glance(client: Client, family: str) -> None:
    wordy, seen = {}, 0
    for looker, seen_by in VISITS:
        page = client.send(client.get(f"/new/{family}"), {"looker": looker, "seen_by": seen_by, "go": "looks"})
        counted = dict(looks_of(page))
        seen += len(counted)
        wordy |= {(name, seen_by): count for name, count in counted.items() if count >= MOST}
    assert seen > 30
    assert wordy == {}
