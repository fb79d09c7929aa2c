"""One violin through a whole year: intake, quote, a change, more found, the bill, the reminder, the second visit.

It is written as the clicks of a workshop; what was typed once is not typed again. By hand a click takes about four
seconds, a typed or chosen field about eight, and a page that comes up is read for about ten (judged at the bench, no
source), which is how the minutes of the intake are counted. The looks themselves are not: they are the luthier's.
"""

import io
import re
from dataclasses import dataclass, field
from decimal import Decimal

from pypdf import PdfReader

from evaluator.basis.money import total_of
from evaluator.store.evaluations import find
from evaluator.store.quotes import more_of, quotes_of
from evaluator.store.workshop.bills import bills_of
from evaluator.web.service import Service
from tests.web.conftest import Client
from tests.web.page import Page
from tests.web.quoting.steps import kept_of, link_of, yes_to_all

FOUND = {
    "bridge_fitted_feet": "gaps", "open_seams": "one_short", "soundpost_fit": "on_edge", "fingerboard_wear": "felt",
    "bridge_warp": "bent", "purfling": "inlaid",
}  # fmt: skip
HOME = "2 Mill Road\n12345 Oldtown"
CLICK_S, FIELD_S, READ_S = 4.0, 8.0, 10.0
MOST_MINUTES = 12.0


@dataclass
class Hands:
    """Somebody at the pages, counting clicks and typed fields."""

    client: Client
    clicks: int = 0
    typed: list[str] = field(default_factory=list)

    def open(self, path: str) -> Page:
        self.clicks += 1
        return self.client.get(path)

    def send(self, page: Page, action: str, **fields: str) -> Page:
        """Press a button; what begins with `go` is the button's own value, all else was typed or chosen."""
        self.clicks += 1
        self.typed += [f"{name}={text}" for name, text in fields.items() if name not in ("go", "job", "how")]
        return self.client.send(page, fields, action=action)


def answered(client: Client, path: str) -> dict[str, str]:
    """Every choice of a part's page that is among what was found."""
    page = client.get(path)
    names = {one.attributes.get("name", "") for one in page.tree.find("input")}
    return {f"q-{check}": outcome for check, outcome in FOUND.items() if f"q-{check}" in names}


def test_a_year_of_one_violin(client: Client, service: Service) -> None:
    hands = Hands(client)
    person = hands.send(
        hands.open("/customers"), "/customers/new", name="Anna Example", telephone="0171 555 01 23", address=HOME
    )
    card = hands.send(person, "/instruments", name="Red violin", family="violin", size="4/4", hours_a_week="5")
    start = hands.send(card, "/look")
    identity = start.path.split("/")[2]
    hands.send(start, "")
    rubric = service.rubric("violin")
    for part in rubric.pages:
        path = f"/evaluations/{identity}/parts/{part}"
        found = answered(client, path) if client.http.get(path).status_code == 200 else {}
        if found:
            hands.send(client.get(path), "", **found)
    made = hands.send(hands.open(f"/evaluations/{identity}/quotes"), "/quotes")
    quote = made.path.split("/")[2]
    line = next(one for one in kept_of(service, quote).quote.lines if not one.shared)
    hands.send(hands.open(f"/quotes/{quote}/edit"), "/edit", go="set", job=line.job, labour="44")
    path = link_of(client, quote)
    hands.clicks += 2  # the button that offers, and the link copied
    minutes = (hands.clicks * (CLICK_S + READ_S) + len(hands.typed) * FIELD_S) / 60
    print(f"from intake to the sent quote: {hands.clicks} clicks, {len(hands.typed)} fields, {minutes:.1f} minutes")
    assert minutes < MOST_MINUTES, f"{hands.clicks} clicks, {len(hands.typed)} fields: {minutes:.1f} minutes"
    assert len(set(hands.typed)) == len(hands.typed), "nothing is typed twice"

    # The customer says yes; more shows up at the bench, and she sets the new most herself.
    page = client.get(path)
    client.send(client.send(page, {**yes_to_all(page), "go": "review"}), {"by": "Anna Example", "go": "send"})
    client.send(client.get(f"/quotes/{quote}/bill"), {"amount": "20"}, action="/payments")
    client.send(client.get(f"/quotes/{quote}/work"), action="/begin")
    here = {line.job for line in kept_of(service, quote).quote.lines}
    job = next(one for one in ("nut_new", "pegs_dress", "tail_cord_new") if one not in here and one in rubric.jobs)
    client.send(client.get(f"/quotes/{quote}/more"), {"found": "It showed at the bench.", "job": job}, action="/more")
    second = more_of(service.engine, kept_of(service, quote).quote.number)[0].id
    asked = client.get(link_of(client, second))
    review = client.send(client.send(asked, {"go": "required"}), {"go": "review"})
    client.send(review, {"by": "Anna Example", "ceiling": "5000", "go": "send"})
    after = client.get(asked.path)
    assert "Ceiling for what is agreed: $5,000.00." in after.text
    assert "We stop and ask before" not in after.text, "one ceiling, for all together"
    printed = client.http.get(f"{asked.path}/quote.pdf").get_data()
    told = " ".join(page.extract_text() for page in PdfReader(io.BytesIO(printed)).pages)
    assert "For Anna Example." in told and "0171" not in told
    work = client.get(f"/quotes/{quote}/work")
    hours = {name: "0,5" for name in work.form("/work") if name.startswith("h-")}
    client.send(work, {**hours, "go": "done"}, action="/work")
    assert kept_of(service, quote).quote.state == "done"

    # The bill: what was agreed in both quotes, to the cent, less what was paid.
    looked = client.send(client.get(f"/quotes/{quote}/bill"), {"go": "look"}, action="/bill")
    client.send(looked, {"go": "give"}, action="/bill")
    bill = bills_of(service.engine, quote)[0].bill
    agreed = [one.chain[-1].total for one in (kept_of(service, quote), kept_of(service, second))]
    assert bill.buyer == ("Anna Example", "2 Mill Road", "12345 Oldtown"), "from her card, not typed again"
    assert bill.total == total_of(agreed, "USD")
    assert bill.due.amount == bill.total.amount - Decimal(20)
    client.send(client.get("/board"), {"go": "collected"}, action="/marks")

    assert "Asked 0" in client.get("/board").text, "a look after the work asks for no quote"

    due = re.search(r"Next service\s+About ([\w ]+), or sooner", client.get(f"/quotes/{quote}/after").text)
    assert due and due[1] in client.get(card.path).text, "one day for all: by the hours that she plays"

    # Half a year on its service falls due; she comes, and old answers are old.
    thing = card.path.split("/")[2]
    service.now = lambda: "2026-11-20T08:00:00+00:00"
    assert "is due to be looked over" in client.get("/board").text
    later = client.send(client.get(f"/evaluations/{identity}/result"), action="/again")
    again = find(service.engine, later.path.split("/")[2])
    assert again is not None and again.typed["answers"] == {}
    assert later.heading == "1 answer of 4 March 2026 to confirm."
    assert "Worked on since: look anew" in later.text and "before the work." in later.text
    worked = re.findall(r'name="check" value="(\w+)"', later.source)
    assert worked == ["purfling"], "of what was worked on nobody can say that it is still so"
    timeline = client.get(f"/instruments/{thing}").text
    for what in ("Looked at: Red violin", "Quote 2026-0001", "Bill B2026-0001"):
        assert what in timeline
    assert len(quotes_of(service.engine, identity)) == 2
