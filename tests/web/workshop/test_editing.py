"""The draft changed on its page: saved, shown on every other page, told where it cannot be, and taken back."""

import pytest

from evaluator.quoting.answers import three_totals
from evaluator.store.workshop.drafts import keep_draft
from evaluator.web.service import Service
from evaluator.wording.quotes import cents
from tests.web.conftest import NOW, Client
from tests.web.page import Page
from tests.web.quoting.steps import kept_of, link_of, made


def sent(page: Page, go: str, job: str = "", **typed: str) -> dict[str, str]:
    fields = {"csrf_token": page.form("/edit")["csrf_token"], "changes": page.form("/edit")["changes"]}
    return {**fields, "go": go, "job": job, **typed}


def step(client: Client, identity: str, go: str, job: str = "", status: int = 200, **typed: str) -> Page:
    where = f"/quotes/{identity}/edit"
    return client.post(where, sent(client.get(where), go, job, **typed), status)


def first_job(service: Service, identity: str) -> str:
    return next(line.job for line in kept_of(service, identity).quote.lines if not line.shared)


def test_a_changed_line_is_the_same_on_every_page(client: Client, service: Service, quote: str) -> None:
    job = first_job(service, quote)
    page = step(client, quote, "set", job, say="Fit a bridge of mine", labour="99,50", parts="0")
    assert "1 change so far" in page.text and "the catalogue has" in page.text
    line = kept_of(service, quote).quote.line(job)
    assert line is not None and line.listed is not None
    assert (line.say, cents(line.price)) == ("Fit a bridge of mine", "$99.50")
    everything = cents(three_totals(kept_of(service, quote).quote)["everything"].total)
    assert everything in page.text
    for place in (f"/quotes/{quote}", link_of(client, quote)):
        shown = client.get(place).text
        assert "Fit a bridge of mine" in shown and "$99.50" in shown and everything in shown, place


def test_what_hangs_on_a_line_is_shown_before_it_goes(client: Client, service: Service, quote: str) -> None:
    lines = kept_of(service, quote).quote.lines
    forced = next(line for line in lines if line.forced_by)
    assert forced.forced_by is not None
    before = len(lines)
    page = step(client, quote, "leave", forced.forced_by)
    assert "What hangs on it" in page.text and forced.say in page.text
    assert len(kept_of(service, quote).quote.lines) == before, "nothing is forced"
    page = step(client, quote, "leave", forced.forced_by, reason="I re-use the bridge", how="alone")
    now = kept_of(service, quote).quote
    assert now.line(forced.forced_by) is None and now.line(forced.job) is not None
    assert "“I re-use the bridge”" in page.text
    assert "“I re-use the bridge”" in client.get(link_of(client, quote)).text


def test_a_line_of_ones_own_and_one_of_the_catalogue_and_back(client: Client, service: Service, quote: str) -> None:
    before = kept_of(service, quote).quote
    step(client, quote, "free", say="Copy the old label", labour="40", reason="The customer asks")
    page = client.get(f"/quotes/{quote}/edit")
    options = [one.attributes["value"] for one in page.tree.find("select", id="add-job")[0].find("option")]
    assert options and before.line(options[0]) is None
    page = step(client, quote, "add", options[-1], units="1", group="recommended", how="alone")
    now = kept_of(service, quote).quote
    own = now.line("own_1")
    assert own is not None and own.free and cents(own.price) == "$40.00"
    assert now.line(options[-1]) is not None
    page = step(client, quote, "undo")
    page = step(client, quote, "undo")
    assert kept_of(service, quote).quote == before
    assert "changes so far" not in page.text


@pytest.mark.parametrize(
    ("go", "typed", "told"),
    [
        ("set", {"hours": "-1"}, "no number of hours"),
        ("set", {"labour": "much"}, "not"),
        ("set", {}, "Nothing differs"),
        ("free", {"say": "Copy the label"}, "has no price"),
        ("free", {"say": "", "labour": "4"}, "has no words"),
        ("free", {"say": "x", "labour": "-4"}, "less than nothing"),
        ("leave", {"how": "with", "reason": ""}, "Nothing says why"),
        ("set", {"units": "0", "job": "moon"}, "not on it any more"),
    ],
)
def test_a_mistake_is_one_sentence_and_nothing_typed_is_lost(
    client: Client,
    service: Service,
    quote: str,
    go: str,
    typed: dict[str, str],
    told: str,
) -> None:
    before = kept_of(service, quote).quote
    job = typed.get("job") or first_job(service, quote)
    page = step(client, quote, go, job, 422, **{key: text for key, text in typed.items() if key != "job"})
    assert told.lower() in page.text.lower(), page.text[:600]
    assert kept_of(service, quote).quote == before
    for text in (text for text in typed.values() if len(text) > 1 and go != "leave" and text != "moon"):
        assert text in page.source


def test_two_tabs_on_two_lines_lose_nothing_and_on_one_line_the_second_is_told(
    client: Client,
    service: Service,
    quote: str,
) -> None:
    where = f"/quotes/{quote}/edit"
    first, second = client.get(where), client.get(where)
    jobs = [line.job for line in kept_of(service, quote).quote.lines if not line.shared]
    client.post(where, sent(first, "set", jobs[0], labour="71"))
    client.post(where, sent(second, "set", jobs[1], labour="72"))
    page = client.post(where, sent(second, "set", jobs[0], labour="73"), 409)
    assert "changed this line a moment ago" in page.text and 'value="73"' in page.source
    now = kept_of(service, quote).quote
    found = [now.line(job) for job in jobs[:2]]
    assert [cents(line.labour) for line in found if line] == ["$71.00", "$72.00"]


def test_a_draft_made_anew_keeps_what_was_changed(client: Client, service: Service, quote: str, finished: str) -> None:
    job = first_job(service, quote)
    base = kept_of(service, quote)
    step(client, quote, "set", job, labour="71")
    assert made(client, finished) == quote
    line = kept_of(service, quote).quote.line(job)
    assert line is not None and cents(line.labour) == "$71.00"
    assert keep_draft(service.engine, finished, base.quote, NOW) == quote


def test_what_was_offered_is_not_changed(client: Client, service: Service, quote: str) -> None:
    page = client.get(f"/quotes/{quote}/edit")
    link_of(client, quote)
    told = client.post(f"/quotes/{quote}/edit", sent(page, "set", first_job(service, quote), labour="5"), 409)
    assert "its lines stay as they are" in told.text
    assert client.get(f"/quotes/{quote}/edit").path == f"/quotes/{quote}"


def test_a_deposit_is_told_before_anybody_can_agree(client: Client, quote: str) -> None:
    assert "Due before the work begins: 25 % of an order from $200.00" in client.get(f"/quotes/{quote}").text
    assert "Due before the work begins: 25 %" in client.get(link_of(client, quote)).text
