"""When the work is done: looked at again, before and after side by side, hours learnt and used, the next service."""

import json
import re
from io import BytesIO

import pytest
from pypdf import PdfReader

from evaluator.store.evaluations import find, newest_made_from
from evaluator.store.workshop.orders import hours_noted
from evaluator.web.quoting.drafts import recorded
from evaluator.web.service import Service
from tests.web.conftest import Client
from tests.web.quoting.steps import kept_of, link_of, made


@pytest.fixture
def done(client: Client, quote: str, path: str) -> str:
    """A quote whose needed work was agreed and done, each job in two hours."""
    chosen = client.send(client.get(path), {"go": "required"})
    client.send(client.send(chosen, {"go": "review"}), {"by": "Mother of Anna", "go": "send"})
    work = client.send(client.get(f"/quotes/{quote}/work"), action="/begin")
    hours = {name: "2" for name in work.form("/work") if name.startswith("h-")}
    parts = {name: "as listed" for name in list(work.form("/work")) if name.startswith("p-")}
    client.send(work, {**hours, **parts, "go": "done"}, action="/work")
    return quote


def test_before_the_work_is_done_there_is_no_after(client: Client, quote: str, path: str) -> None:
    assert client.get(f"/quotes/{quote}/after").path == f"/quotes/{quote}/work"


def test_only_what_the_work_can_have_changed_is_asked_again(
    client: Client, service: Service, done: str, finished: str
) -> None:
    page = client.get(f"/quotes/{done}/after")
    assert page.heading == "The work is done. Is it better?"
    waiting = client.send(page, action="/again")
    again = newest_made_from(service.engine, finished, "")
    before = find(service.engine, finished)
    assert again is not None
    assert before is not None
    cleared = set(before.typed["answers"]) - set(again.typed["answers"])
    order = kept_of(service, done).work
    assert order is not None
    jobs = {task.job for task in order.tasks}
    checks = service.rubric("violin").checks
    cured = {name for name in cleared if any(jobs & one.jobs for one in checks[name].outcomes.values())}
    assert cleared == cured != set()
    assert waiting.heading == f"{len(cleared)} things to look at again."
    links = [one.attributes["href"] for one in waiting.tree.find("a") if "#check-" in one.attributes["href"]]
    assert {link.split("#check-")[1] for link in links} == cleared
    assert client.get(links[0].split("#")[0]).heading
    client.send(client.get(f"/quotes/{done}/after").path and page, action="/again")
    assert newest_made_from(service.engine, finished, "") == again, "an open one is gone on with"


def test_before_and_after_stand_side_by_side(client: Client, service: Service, done: str, finished: str) -> None:
    waiting = client.send(client.get(f"/quotes/{done}/after"), action="/again")
    links = [one.attributes["href"] for one in waiting.tree.find("a") if "#check-" in one.attributes["href"]]
    checks = service.rubric("violin").checks
    left = links[0].split("#check-")[1]
    for link in links:
        address, name = link.split("#check-")
        outcomes = checks[name].outcomes
        sound = next(key for key, one in outcomes.items() if one.class_ == "sound")
        bad = next(key for key, one in outcomes.items() if one.class_ != "sound" and one.cured_by)
        part = client.get(address)
        client.send(part, {f"q-{name}": bad if name == left else sound})
    page = client.get(f"/quotes/{done}/after")
    assert re.fullmatch(r"So far: score \d+ before, \d+ after\.", page.heading)
    was, now = (int(text) for text in re.findall(r"\d+", page.heading))
    assert now > was
    gone = [row for row in page.tree.find("tr") if row.attributes.get("class") == "gone"]
    assert 0 < len(gone) < len(links) + 1
    assert f"{len(gone)} are gone" in page.text
    assert "Next service About 4 September 2026" in page.text
    assert "2 h as listed" in page.text
    again = newest_made_from(service.engine, finished, "")
    assert again is not None
    result = client.get(f"/evaluations/{again.id}/result")
    client.send(result, action="/finish")
    assert client.get(f"/quotes/{done}/after").heading == page.heading.replace("So far: s", "S")
    text = words_of(client, f"/quotes/{done}/after.pdf")
    assert f"score {was} before the work, {now} after it." in text
    assert text.count("Gone") == len(gone)


def words_of(client: Client, address: str) -> str:
    """The text of a paper, white space folded."""
    with client.http.get(address) as response:
        assert (response.status_code, response.mimetype) == (200, "application/pdf")
        pages = PdfReader(BytesIO(response.data)).pages
        return " ".join(" ".join(page.extract_text() for page in pages).split())


def test_a_paper_goes_home_with_the_instrument(client: Client, service: Service, done: str, path: str) -> None:
    text = words_of(client, f"/quotes/{done}/after.pdf")
    assert "Anna's violin: the work is done." in text
    assert "agreed by Mother of Anna; the work was done on 4 March 2026." in text
    assert "About 4 September 2026" in text
    order = kept_of(service, done).work
    assert order is not None
    assert all(task.say in text for task in order.tasks)
    assert "as listed" in text
    assert "2 h" not in text, "hours are the shop's own affair"
    client.send(client.get(f"/quotes/{done}/after"), action="/again")
    assert "the work is done." in words_of(client, f"{path}/done.pdf"), "a look that is not finished is not shown"


def test_there_is_no_such_paper_before_the_work_is_done(client: Client, quote: str, path: str) -> None:
    for address in (f"/quotes/{quote}/after.pdf", f"{path}/done.pdf"):
        assert client.http.get(address).status_code == 404


def test_the_next_service_is_a_calendar_file(client: Client, done: str) -> None:
    response = client.http.get(f"/quotes/{done}/service.ics")
    text = response.get_data(as_text=True)
    assert "DTSTART;VALUE=DATE:20260904" in text
    assert "SUMMARY:Service: Anna's violin" in text


def test_own_hours_are_used_in_a_new_quote_and_never_in_one_that_was_offered(
    client: Client, service: Service, done: str, finished: str
) -> None:
    first = kept_of(service, done).quote
    jobs = {one.job for one in hours_noted(service.engine)}
    with client.app.app_context():
        assert set(recorded()) == jobs
    assert "What our own work took" in client.get("/hours").heading
    page = client.get(f"/evaluations/{finished}/quotes")
    assert page.form()["own"] == "yes", "on by itself where there are records"
    learnt = kept_of(service, made(client, finished)).quote
    assert {line.job: line.own_jobs for line in learnt.lines if line.own_jobs} == {
        line.job: 1 for line in learnt.lines if line.job in jobs
    }
    fields = {name: value for name, value in page.form().items() if name != "own"}
    plain = client.post(f"/evaluations/{finished}/quotes", fields)
    usual = kept_of(service, plain.path.split("/")[2]).quote
    assert all(line.own_jobs == 0 for line in usual.lines)
    assert [(line.job, line.price) for line in usual.lines] == [(line.job, line.price) for line in first.lines]
    assert [line.job for line in learnt.lines] == [line.job for line in usual.lines], "the work stays as it was found"
    assert sum(line.price.amount for line in learnt.lines) > sum(line.price.amount for line in usual.lines)
    assert kept_of(service, done).quote == first
    drawn = made(client, finished)
    customer = client.get(link_of(client, drawn))
    assert "Priced by the hours of 1 such job done here." in customer.text
    data = json.loads(client.http.get(f"/quotes/{drawn}/quote.json").data)
    assert {line["job"] for line in data["lines"] if line["own_jobs"] == 1} >= jobs & {one.job for one in first.lines}


def test_chances_of_extras_are_learnt_and_used_only_where_ticked(
    client: Client, service: Service, done: str, finished: str
) -> None:
    first = kept_of(service, done).quote
    told = {one.job: one.chance for one in first.extras}
    assert told, "the quote names what may come"
    page = client.get("/hours")
    assert "What came on top" in page.text
    assert "0 of 1" in page.text
    usual = kept_of(service, made(client, finished)).quote
    assert {one.job: one.chance for one in usual.extras} == told, "off until it is ticked"
    ticked = kept_of(service, made(client, finished, chances="yes")).quote
    assert {one.job: one.chance for one in ticked.extras} == pytest.approx(
        {job: 10 * chance / 11 for job, chance in told.items()}
    )
    assert kept_of(service, done).quote == first


def test_without_records_nothing_is_offered(client: Client, finished: str) -> None:
    page = client.get(f"/evaluations/{finished}/quotes")
    assert "own" not in page.form()
    assert "Nothing is noted yet." in client.get("/hours").text


def test_the_front_page_leads_to_the_hours(client: Client) -> None:
    assert [one for one in client.get("/").tree.find("a") if one.attributes["href"] == "/hours"]


def test_the_grade_of_a_part_is_chosen_on_the_draft_and_said_everywhere(
    client: Client, service: Service, quote: str
) -> None:
    page = client.get(f"/quotes/{quote}")
    names = [one.attributes["name"] for one in page.tree.find("select") if one.attributes["name"].startswith("g-")]
    name = next(one for one in names if one.endswith("bridge_blank"))
    before = kept_of(service, quote).quote
    dearer = client.send(page, {name: "select"}, action="/parts")
    after = kept_of(service, quote).quote
    assert dearer.form("/parts")[name] == "select"
    assert after.number == before.number
    assert sum(line.price.amount for line in after.lines) > sum(line.price.amount for line in before.lines)
    assert "(select)" in dearer.text
    wrong = client.post(f"/quotes/{quote}/parts", {**dearer.form("/parts"), name: "golden"}, 422)
    assert "is not listed as golden. Choose one of the grades shown." in wrong.text
    path = link_of(client, quote)
    assert "(select)" in client.get(path).text
    late = client.post(f"/quotes/{quote}/parts", {**dearer.form("/parts"), name: "plain"}, 409)
    assert "it is offered, and its parts stay as they are." in late.text
    assert kept_of(service, quote).quote.lines == after.lines
