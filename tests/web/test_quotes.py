"""The quote from the finished evaluation to the work that is done, and every bad input in one clear sentence."""

import json
import re
from dataclasses import replace
from decimal import Decimal
from typing import Any

import pytest
import yaml
from sqlalchemy import text

from evaluator.folders import rubrics_folder
from evaluator.rubric.shop import Deposit, Shop, Tax
from evaluator.store.engine import writing
from evaluator.store.evaluations import create, finish
from evaluator.store.quotes import KeptQuote, find_by_number, find_quote
from evaluator.web.app import create_app
from evaluator.web.quote_view import typed_amount, typed_hours
from evaluator.web.service import Service
from tests.web.conftest import NOW, Client, check_headers
from tests.web.page import Page

GET = ("/evaluations/{evaluation}/quotes", "/quotes/{id}", "/quotes/{id}/work", "/q/{token}", "/hours")
OTHER = {
    "/quotes/{id}/quote.pdf": "application/pdf",
    "/quotes/{id}/work.pdf": "application/pdf",
    "/quotes/{id}/quote.json": "application/json",
    "/q/{token}/quote.pdf": "application/pdf",
}
POST = (
    "/evaluations/{evaluation}/quotes",
    "/quotes/{id}/offer",
    "/quotes/{id}/spoken",
    "/quotes/{id}/begin",
    "/quotes/{id}/work",
    "/q/{token}",
)
LATER = "2026-09-04T05:06:07+00:00"


@pytest.fixture
def taxed(shop: Shop) -> Shop:
    """A shop whose tax, deposit and rounding all show in a total."""
    update = {
        "tax": Tax(labour=0.0825, parts=0.19),
        "rounding": "five_cents",
        "deposits": (Deposit(from_total=Decimal(200), share=0.25),),
    }
    return shop.model_copy(update=update)


@pytest.fixture
def service(service: Service, taxed: Shop) -> Service:
    return replace(service, shop=taxed)


@pytest.fixture
def finished(service: Service) -> str:
    """The id of a finished evaluation with many faults."""
    source = yaml.safe_load((rubrics_folder() / "examples" / "student_violin_cut_corners.yaml").read_text("utf-8"))
    answers = {
        name: {"outcome": one} if isinstance(one, str) else {"outcome": str(one.get("outcome", ""))}
        for name, one in source["observations"].items()
        if isinstance(one, str) or (isinstance(one, dict) and one.get("outcome"))
    }
    start = {"title": "Anna's violin", "size": "4/4", "style": "classical", "tier": "student"}
    identity = create(service.engine, "violin", {"start": start, "answers": answers}, NOW)
    from evaluator.store.evaluations import find

    kept = find(service.engine, identity)
    assert kept is not None
    finish(service.engine, identity, 1, service.snapshot(kept), "hash", NOW)
    return identity


def made(client: Client, evaluation: str, **typed: str) -> str:
    """Make a draft; its id."""
    page = client.send(client.get(f"/evaluations/{evaluation}/quotes"), typed)
    return page.path.split("/")[2]


def link_of(client: Client, identity: str) -> str:
    """Offer the draft; the path of its private link."""
    page = client.send(client.get(f"/quotes/{identity}"), action="/offer")
    found = re.search(r"/q/[\w-]+", page.text)
    assert found is not None
    return found.group()


def kept_of(service: Service, identity: str) -> KeptQuote:
    kept = find_quote(service.engine, identity)
    assert kept is not None
    return kept


def yes_to_all(page: Page) -> dict[str, str]:
    names = (one.attributes["name"] for one in page.tree.find("input", type="radio"))
    return dict.fromkeys(names, "yes")


def amounts(text: str) -> list[Decimal]:
    return [Decimal((sign + one).replace(",", "")) for sign, one in re.findall(r"(-?)\$([\d,]+\.\d\d)", text)]


@pytest.fixture
def quote(client: Client, finished: str) -> str:
    return made(client, finished)


@pytest.fixture
def path(client: Client, quote: str) -> str:
    return link_of(client, quote)


def agree(client: Client, path: str, name: str = "Mother of Anna", **typed: str) -> Page:
    page = client.get(path)
    review = client.send(page, {**yes_to_all(page), "go": "review"})
    return client.send(review, {"by": name, "go": "send", **typed})


def test_every_route_of_a_quote_is_listed_here(client: Client) -> None:
    mine = [rule for rule in client.app.url_map.iter_rules() if rule.endpoint.split(".")[0] in LISTED]
    place = {"identity": "{id}", "token": "{token}"}

    def plain(rule: Any) -> str:
        path = rule.rule.replace("/evaluations/<identity>", "/evaluations/{evaluation}")
        return re.sub(r"<(\w+)>", lambda found: place[found.group(1)], path)

    assert {plain(rule) for rule in mine if "GET" in rule.methods} == {*GET, *OTHER}
    assert {plain(rule) for rule in mine if "POST" in rule.methods} == set(POST)


LISTED = {"quotes", "quote_link", "bench"}


def test_every_page_and_paper_is_sound_in_every_state(client: Client, quote: str, finished: str, path: str) -> None:
    names = {"id": quote, "evaluation": finished, "token": path.removeprefix("/q/")}
    for step in ("offered", "agreed"):
        if step == "agreed":
            agree(client, path)
        for one in GET:
            assert client.get(one.format(**names)).heading
        for one, kind in OTHER.items():
            if step == "offered" and one.endswith("work.pdf"):
                continue
            for size in ("A4", "Letter"):
                with client.http.get(one.format(**names), query_string={"paper": size}) as response:
                    assert (response.status_code, response.mimetype) == (200, kind)
                    check_headers(response)


@pytest.mark.parametrize("one", POST)
def test_nothing_is_taken_without_the_token_of_the_page(
    client: Client, service: Service, quote: str, finished: str, path: str, one: str
) -> None:
    before = kept_of(service, quote)
    address = one.format(id=quote, evaluation=finished, token=path.removeprefix("/q/"))
    assert "too old" in client.post(address, {"go": "send"}, 400).heading
    assert kept_of(service, quote) == before


@pytest.mark.parametrize("one", [*GET[:-1], *OTHER])
def test_what_is_not_there_is_told(client: Client, one: str) -> None:
    assert client.get(one.format(id="0" * 12, evaluation="0" * 12, token="x"), 404).heading == "There is no such page"


def test_from_the_evaluation_to_work_that_is_done(client: Client, service: Service, finished: str) -> None:
    identity = made(client, finished, about="For the parents")
    assert "draft" in client.get(f"/quotes/{identity}").heading
    path = link_of(client, identity)
    assert path not in client.get(f"/quotes/{identity}").text, "the link shows once"
    page = client.get(path)
    chosen = client.send(page, {"go": "required"})
    review = client.send(chosen, {"go": "review"})
    total = amounts(review.heading)[0]
    closed = client.send(review, {"by": "Mother of Anna", "go": "send"})
    assert closed.heading == "You have agreed. The workshop will begin."
    kept = kept_of(service, identity)
    assert (kept.quote.state, kept.chain[-1].by, kept.chain[-1].total.amount) == ("agreed", "Mother of Anna", total)
    work = client.send(client.get(f"/quotes/{identity}/work"), action="/begin")
    fields = {name: "1,5" for name in work.form("/work") if name.startswith("h-")}
    assert fields
    first = next(iter(fields))
    half = client.send(work, {first: "1,5", "go": "done"}, 422, "/work")
    assert "No hours are noted for" in half.text
    stored = kept_of(service, identity).work
    assert stored is not None
    assert [task.hours for task in stored.tasks if f"h-{task.job}" == first] == [1.5]
    done = client.send(half, {**fields, "go": "done"}, action="/work")
    assert done.heading == "The work is done."
    assert "Next service about 4 September 2026" in done.text
    assert "Own mean" in client.get("/hours").text
    assert client.get(path).heading == "The work is done."


def test_lines_labour_and_tax_make_the_total_on_page_and_json(client: Client, quote: str, path: str) -> None:
    data = json.loads(client.http.get(f"/quotes/{quote}/quote.json").data)
    for name, found in data["totals"].items():
        value = {key: Decimal(one["amount"]) for key, one in found.items()}
        keys = ("labour", "parts", "rush", "minimum", "tax", "rounding")
        assert sum(value[key] for key in keys) == value["total"], name
        assert value["tax"] == value["labour_tax"] + value["parts_tax"] > 0
    page = client.get(path)
    for typed in ({**yes_to_all(page)}, dict.fromkeys(list(yes_to_all(page))[:3], "yes")):
        review = client.send(page, {**typed, "go": "review"})
        table = next(one for one in review.tree.find("table") if "sums" in one.attributes["class"])
        figures = [amounts(row.text)[-1] for row in table.find("tr") if amounts(row.text)]
        assert sum(figures[:-1]) == figures[-1] == amounts(review.heading)[0]
        lines = [one.find("span")[-1].text for one in review.tree.find("ul", _class="answered")[0].find("li")]
        labour_and_parts = sum(figure for row, figure in zip(_names(table), figures, strict=True) if row in BEFORE_TAX)
        assert sum(amounts(line)[0] for line in lines if line) == labour_and_parts


BEFORE_TAX = {"Work", "Parts"}


def _names(table: Any) -> list[str]:
    return [row.find("td")[0].text for row in table.find("tr") if row.find("td")]


def test_everything_on_page_is_what_the_json_says(client: Client, quote: str, path: str) -> None:
    data = json.loads(client.http.get(f"/quotes/{quote}/quote.json").data)
    page = client.get(path)
    review = client.send(page, {**yes_to_all(page), "go": "review"})
    assert amounts(review.heading)[0] == Decimal(data["totals"]["everything"]["total"]["amount"])
    buttons = [one.text for one in page.tree.find("button") if amounts(one.text)]
    shown = {name: Decimal(one["total"]["amount"]) for name, one in data["totals"].items()}
    assert [amounts(text)[0] for text in buttons] == sorted(shown.values())


def test_a_no_is_told_with_what_it_saves_and_what_falls(client: Client, path: str) -> None:
    text = client.get(path).text
    assert "Without it: $" in text
    assert "This falls away with it:" in text
    assert "stays on the bill, for" in text


def test_what_needs_a_line_without_a_yes_falls_and_is_told(client: Client, service: Service, path: str) -> None:
    page = client.get(path)
    number = find_by_number(service.engine, "2026-0001")
    assert number is not None
    leading = next(line.forced_by for line in number.quote.lines if line.forced_by and not line.shared)
    review = client.send(page, {**yes_to_all(page), f"a-{leading}": "no", "go": "review"})
    assert "Cannot be done as chosen" in review.text
    line = number.quote.line(leading)
    assert line is not None
    assert f"needs a yes to {line.say.lower()}" in review.text


def test_the_second_of_two_phones_is_told_and_loses_nothing(
    client: Client, service: Service, quote: str, path: str
) -> None:
    page = client.get(path)
    reviews = [client.send(page, {**yes_to_all(page), "go": "review"}) for _ in range(2)]
    job = next(iter(yes_to_all(page)))
    client.send(reviews[0], {"by": "Anna", "go": "send"})
    second = client.send(reviews[1], {"by": "Ben", job: "no", "go": "send"}, 409)
    assert "Anna answered this quote a moment ago. Your answers were not counted; both are below." in second.heading
    assert "Your answers, not counted" in second.text
    assert len(kept_of(service, quote).chain) == 1


def test_all_put_off_can_be_answered_again(client: Client, service: Service, quote: str, path: str) -> None:
    page = client.get(path)
    later = dict.fromkeys(yes_to_all(page), "later")
    first = client.send(page, {**later, "go": "review"})
    second = client.send(page, {**yes_to_all(page), "go": "review"})
    client.send(first, {"by": "Anna", "go": "send"})
    told = client.send(second, {"by": "Ben", "go": "send"}, 409)
    assert "Send yours again" in told.text
    review = client.send(told, {"go": "review"})
    client.send(review, {"by": "Ben", "go": "send"})
    assert [one.by for one in kept_of(service, quote).chain] == ["Anna", "Ben"]


@pytest.mark.parametrize(
    ("typed", "sentence"),
    [
        ({"ceiling": "10"}, "above the ceiling of $10.00. Raise the ceiling or say no to a line; nothing was changed."),
        ({"ceiling": "a lot"}, "Ceiling: “a lot” is no amount of money. Write it in figures, like 250 or 250.00."),
        ({"by": "  "}, "nobody is named. Write who agrees."),
    ],
)
def test_a_bad_answer_is_told_and_stays_as_typed(
    client: Client, service: Service, quote: str, path: str, typed: dict[str, str], sentence: str
) -> None:
    before = kept_of(service, quote)
    page = client.get(path)
    review = client.send(page, {**yes_to_all(page), "go": "review"})
    again = client.send(review, {"by": "Anna", **typed, "go": "send"}, 422)
    assert sentence in again.text
    sent = again.form()
    assert {name: sent[name] for name in typed} == typed
    assert yes_to_all(page).items() <= sent.items()
    assert kept_of(service, quote) == before


def test_no_answer_at_all_is_told(client: Client, path: str) -> None:
    assert "No line is answered yet." in client.send(client.get(path), {"go": "review"}, 422).text


def test_an_expired_link_says_so_and_takes_nothing(client: Client, service: Service, quote: str, path: str) -> None:
    review = client.send(client.get(path), {**yes_to_all(client.get(path)), "go": "review"})
    late = Client(create_app(replace(service, now=lambda: LATER), "a key for tests"))
    late.http = late.app.test_client()
    said = "This quote was valid until 3 April 2026. Ask the workshop for a new one; prices may have changed."
    assert late.get(path).heading == said
    token = late.token()
    sent = late.post(path, {**review.form(), "csrf_token": token, "by": "Anna", "go": "send"}, 409)
    assert sent.heading == said
    assert kept_of(service, quote).quote.state == "offered"


def test_the_link_of_a_superseded_quote_names_the_newer_one(client: Client, service: Service, finished: str) -> None:
    old = made(client, finished)
    path = link_of(client, old)
    review = client.send(client.get(path), {**yes_to_all(client.get(path)), "go": "review"})
    link_of(client, made(client, finished, about="changed"))
    said = "This quote was replaced by quote 2026-0002. Ask the workshop for its link; this one cannot be answered."
    assert client.get(path).heading == said
    assert client.send(review, {"by": "Anna", "go": "send"}, 409).heading == said
    assert kept_of(service, old).chain == ()


@pytest.mark.parametrize(
    ("typed", "sentence"),
    [
        ({"by": ""}, "nobody is named."),
        ({"noted_by": ""}, "a spoken yes needs the name of who noted it."),
        ({"at": "yesterday"}, "When: “yesterday” is no day and time."),
        ({"at": "2026-03-05 10:00"}, "When: that time has not come yet."),
        ({"at": "2026-03-01 10:00"}, "When: that was before the quote was made."),
        ({"ceiling": "3"}, "above the ceiling of $3.00."),
    ],
)
def test_a_spoken_yes_needs_who_when_and_how(
    client: Client, service: Service, quote: str, path: str, typed: dict[str, str], sentence: str
) -> None:
    before = kept_of(service, quote)
    page = client.get(f"/quotes/{quote}")
    filled = {"by": "Mother of Anna", "noted_by": "J. at the bench", "go": "note", **typed}
    again = client.send(page, filled, 422, "/spoken")
    assert sentence in again.text
    assert typed.items() <= again.form("/spoken").items()
    assert kept_of(service, quote) == before


def test_a_spoken_yes_is_noted(client: Client, service: Service, quote: str, path: str) -> None:
    page = client.get(f"/quotes/{quote}")
    typed = {"by": "Mother of Anna", "noted_by": "J.", "at": "2026-03-04 04:30", "how": "spoken", "go": "note"}
    assert client.send(page, typed, action="/spoken").heading == "Agreed. The work can begin."
    one = kept_of(service, quote).chain[-1]
    assert (one.by, one.noted_by, one.how, one.at.isoformat()) == (
        "Mother of Anna", "J.", "spoken", "2026-03-04T04:30:00+00:00",
    )  # fmt: skip
    assert client.get(path).heading == "You have agreed. The workshop will begin."


def test_an_altered_record_shows_and_stops_the_work(client: Client, service: Service, quote: str, path: str) -> None:
    agree(client, path)
    work = client.get(f"/quotes/{quote}/work")
    with writing(service.engine) as connection:
        connection.execute(text("DROP TRIGGER consents_stay"))
        connection.execute(text("UPDATE consents SET record = replace(record, 'Mother', 'Father')"))
    assert "The record was changed" in client.get(f"/quotes/{quote}").text
    assert "changed after it was given" in client.send(work, status=422, action="/begin").text
    assert json.loads(client.http.get(f"/quotes/{quote}/quote.json").data)["first_altered"] == 0
    assert kept_of(service, quote).quote.state == "agreed"


def test_an_extra_beyond_the_ceiling_stops_and_asks(client: Client, service: Service, quote: str, path: str) -> None:
    page = client.get(path)
    review = client.send(page, {**yes_to_all(page), "go": "review"})
    total = str(amounts(review.heading)[0])
    client.send(review, {"by": "Anna", "ceiling": total, "go": "send"})
    assert "Stop, keep it safe, and send a second quote for the extra." in client.get(f"/quotes/{quote}/work").text


def test_a_quote_needs_a_finished_evaluation_with_the_figures_of_now(
    client: Client, service: Service, draft: str, finished: str, taxed: Shop
) -> None:
    token = client.token()
    page = client.post(f"/evaluations/{draft}/quotes", {"csrf_token": token}, 422)
    assert "Red violin: it is not finished." in page.text
    dearer = replace(service, shop=taxed.model_copy(update={"minimum_charge": Decimal(31)}))
    other = Client(create_app(dearer, "a key for tests"))
    page = other.send(other.get(f"/evaluations/{finished}/quotes"), status=422)
    assert "prices or rubric have changed since it was finished." in page.text


def test_work_cannot_begin_before_a_yes(client: Client, service: Service, quote: str, path: str) -> None:
    token = client.token()
    page = client.post(f"/quotes/{quote}/begin", {"csrf_token": token}, 409)
    assert "it is offered and cannot become in work." in page.text
    assert kept_of(service, quote).work is None


def test_hours_that_cannot_be_read_are_told_and_kept_in_the_field(client: Client, path: str, quote: str) -> None:
    agree(client, path)
    work = client.send(client.get(f"/quotes/{quote}/work"), action="/begin")
    name = next(name for name in work.form("/work") if name.startswith("h-"))
    again = client.send(work, {name: "a while", "go": "note"}, 422, "/work")
    assert "“a while” is no number of hours." in again.text
    assert again.form("/work")[name] == "a while"


@pytest.mark.parametrize(
    ("typed", "amount"),
    [
        ("250", "250.00"),
        ("250,5", "250.50"),
        ("1,250", "1250.00"),
        ("1.250,50", "1250.50"),
        ("$ 1,250.50", "1250.50"),
        ("250.00 USD", "250.00"),
        ("0", "0.00"),
    ],
)
def test_amounts_as_people_type_them(typed: str, amount: str) -> None:
    found = typed_amount(typed, "USD")
    assert str(getattr(found, "amount", found)) == amount


@pytest.mark.parametrize("typed", ["-5", "abc", "1-2", "9" * 20, ".", "12 EUR", "٣", "1e9", "5-"])
def test_no_amounts(typed: str) -> None:
    assert getattr(typed_amount(typed, "USD"), "code", None) == "quote.amount"


@pytest.mark.parametrize("typed", ["0", "-1", "x", "nan", "inf", "501"])
def test_no_hours(typed: str) -> None:
    assert getattr(typed_hours(typed, "Job"), "code", None) == "quote.hours"
