"""What goes wrong on a bad day: the tax changes while a quote is out, an opinion breaks what was judged beforehand."""

import pytest

from evaluator.store.quotes import more_of
from evaluator.store.workshop.bills import bills_of
from evaluator.web.service import Service
from tests.web.conftest import Client
from tests.web.quoting.steps import agree, amounts, kept_of, link_of, made, yes_to_all

HARD = (
    "extends: violin\nby: Bench and Bow\nchange:\n"
    "  purfling: {weight: 5, outcomes: {inlaid: {worth: 0.1, class: fault, inherent: true}}}\n"
)


def test_the_tax_changes_while_a_quote_is_out(client: Client, service: Service, quote: str, finished: str) -> None:
    """What was offered stays to the cent, and one order has one tax to its bill; the next look has the new one."""
    path = link_of(client, quote)
    before, shown = kept_of(service, quote).quote, amounts(client.get(path).text)
    saved = client.send(client.get("/shop/terms"), {"tax.labour": "20", "tax.parts": "20"}, action="/shop/terms")
    assert "What was offered or finished before stays as it was." in saved.text
    assert (kept_of(service, quote).quote, amounts(client.get(path).text)) == (before, shown)
    agree(client, path)
    first = kept_of(service, quote).chain[-1].total
    client.send(client.get(f"/quotes/{quote}/work"), action="/begin")
    here = {line.job for line in before.lines}
    job = next(one for one in ("nut_new", "pegs_dress", "tailgut_replace") if one not in here)
    page = client.get(f"/quotes/{quote}/more")
    client.send(page, {"found": "It showed at the bench.", "job": job}, action="/more")
    second = more_of(service.engine, before.number)[0]
    asked = client.get(link_of(client, second.id))
    review = client.send(asked, {**yes_to_all(asked), "go": "review"})
    client.send(review, {"by": "Anna Example", "ceiling": "9000", "go": "send"})
    work = client.get(f"/quotes/{quote}/work")
    hours = {name: "1" for name in work.form("/work") if name.startswith("h-")}
    client.send(work, {**hours, "go": "done"}, action="/work")
    client.send(
        client.send(client.get(f"/quotes/{quote}/bill"), {"go": "look"}, action="/bill"), {"go": "give"}, action="/bill"
    )
    bill = bills_of(service.engine, quote)[0].bill
    assert bill.total == first + kept_of(service, second.id).chain[-1].total
    assert {round(row.rate, 4) for row in bill.taxes} == {0.0825, 0.19}
    again = made(client, finished)
    assert kept_of(service, again).quote.terms.labour_tax == 0.0825, "as it was when it was finished"
    assert service.shop.tax.labour == 0.2, "and every look from now on"
    told = "It keeps the tax of when the evaluation was finished: 8.25 % on work and 19 % on parts."
    assert told in client.get(f"/quotes/{again}").text and told not in client.get(f"/quotes/{quote}").text


@pytest.mark.long  # the reference instruments are judged four times
def test_an_opinion_that_breaks_what_was_judged_beforehand_is_told_so(client: Client, service: Service) -> None:
    page = client.send(client.get("/opinions"), {"text": HARD, "go": "on"}, 409, action="/opinions")
    assert "would no longer be judged as beforehand. Switch it on once more if that is your opinion." in page.text
    assert "No longer as judged beforehand: score.at_least" in page.text
    assert page.form("/opinions")["text"].strip() == HARD.strip(), "nothing typed is lost"
    assert service.opinions is None
    client.send(page, {"go": "on"}, action="/opinions")
    assert service.opinions is not None, "it is the workshop's opinion"
