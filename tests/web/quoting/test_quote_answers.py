"""The customer's answers on the private link, and every bad one told in one clear sentence with nothing lost."""

from dataclasses import replace

import pytest

from evaluator.quoting.answers import all_yes, standing
from evaluator.store.quotes import find_by_number
from evaluator.web.app import create_app
from evaluator.web.service import Service
from tests.web.conftest import Client
from tests.web.quoting.steps import LATER, kept_of, link_of, made, yes_to_all


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


def test_what_is_charged_once_names_only_jobs_that_are_done(client: Client, service: Service, path: str) -> None:
    page = client.get(path)
    kept = find_by_number(service.engine, "2026-0001")
    assert kept is not None
    lines = standing(kept.quote, all_yes(kept.quote))
    users = {
        shared.say: [one for one in lines if any(shared.job in options for options in one.labours)]
        for shared in lines
        if shared.shared
    }
    say, needing = next((say, found) for say, found in users.items() if len(found) > 1)
    refused = next(one for one in needing if all(one.job != other.forced_by for other in needing))
    text = client.send(page, {**yes_to_all(page), f"a-{refused.job}": "no", "go": "review"}).text
    told = text.split(f"{say} Charged once, for: ", 1)[1].split(".", 1)[0].lower()
    assert refused.say.lower() not in told
    assert any(one.say.lower() in told for one in needing if one is not refused)


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
        ({"ceiling": "a lot"}, 'Ceiling: "a lot" is not an amount. Enter an amount, for example 780 or 780.50.'),
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


def test_a_bad_ceiling_and_a_missing_name_are_told_at_once(client: Client, path: str) -> None:
    page = client.get(path)
    review = client.send(page, {**yes_to_all(page), "go": "review"})
    again = client.send(review, {"by": "", "ceiling": "3x0", "go": "send"}, 422).text
    assert '"3x0" is not an amount' in again and "nobody is named" in again


def test_no_answer_at_all_is_told(client: Client, path: str) -> None:
    assert "No line is answered yet." in client.send(client.get(path), {"go": "review"}, 422).text


def test_an_expired_link_says_so_and_takes_nothing(client: Client, service: Service, quote: str, path: str) -> None:
    review = client.send(client.get(path), {**yes_to_all(client.get(path)), "go": "review"})
    late = Client(create_app(replace(service, now=lambda: LATER), "a key for tests"))
    late.http._cookies.update(client.http._cookies)
    said = "This quote was valid until 3 April 2026. Ask the workshop for a new one; prices may have changed."
    assert late.get(path).heading == said
    sent = late.post(path, {**review.form(), "by": "Anna", "go": "send"}, 409)
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
