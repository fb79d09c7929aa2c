"""Owning it and rent or buy: the figures of the page are those of the sums, and what is no number is told."""

import pytest

from evaluator.store.evaluations import create
from evaluator.web.service import Service
from tests.web.conftest import NOW, Client


def test_five_years_of_a_learner(client: Client, draft: str) -> None:
    # 150 hours a year; the prices that stand on the page first: 325 + 255 + 621 + 40 + 200 + 100 (from memory).
    page = client.get(f"/evaluations/{draft}/owning?hours=2.88&value=1000")
    for figure in ("$325", "$255", "$621", "$40", "$200", "$100"):
        assert f">{figure}<" in page.source
    assert page.heading == "About $1,541 over 5 years, beside the price."


def test_more_playing_costs_more(client: Client, draft: str) -> None:
    learner, daily = (client.get(f"/evaluations/{draft}/owning?hours={hours}").heading for hours in (3, 20))
    assert float(learner.split("$")[1].split()[0].replace(",", "")) < float(
        daily.split("$")[1].split()[0].replace(",", "")
    )


def test_services_come_as_a_calendar(client: Client, draft: str) -> None:
    with client.http.get(f"/evaluations/{draft}/service.calendar?hours=10") as response:
        text = response.get_data(as_text=True)
        assert response.mimetype == "text/calendar"
    assert text.startswith("BEGIN:VCALENDAR\r\n") and text.count("BEGIN:VEVENT") == 4
    assert "SUMMARY:Service: Red violin" in text and "DTSTART;VALUE=DATE:20260" in text


@pytest.mark.parametrize(
    ("months", "figures"),
    [(24, ("$720", "$270", "$891", "$396")), (12, ("$360", "$135", "$693", "$198"))],
)
def test_rent_or_buy_as_worked_by_hand(client: Client, months: int, figures: tuple[str, ...]) -> None:
    # 25 rent and 5 care a month, 75 of 100 credited; or 900 to buy, 198 service a year, 45 of 100 back privately.
    page = client.get(f"/rent-or-buy?months={months}")
    for figure in figures:
        assert f": {figure}<" in page.source
    assert page.heading == f"After {months} months: {figures[0]} to rent and give back, {figures[2]} to buy and sell."


def test_a_bow_wears_out_hair_alone(client: Client, service: Service) -> None:
    start = {"title": "A stick", "size": "violin 4/4", "style": "classical", "tier": "student"}
    bow = create(service.engine, "bow", {"start": start, "answers": {}}, NOW)
    source = client.get(f"/evaluations/{bow}/owning").source
    assert source.count(">$0<") == 2


@pytest.mark.parametrize("text", ["", "lots", "-3", "nan", "1e9", "99999999"])
def test_what_is_no_number_is_told_and_kept(client: Client, draft: str, text: str) -> None:
    for path, name in ((f"/evaluations/{draft}/owning", "rehair"), ("/rent-or-buy", "rent")):
        page = client.get(f"{path}?{name}={text}", 422)
        assert "is not a number from 0" in page.text and f'value="{text}"' in page.source


def test_no_playing_at_all_still_has_a_service_date(client: Client, draft: str, service: Service) -> None:
    assert "2026" in client.get(f"/evaluations/{draft}/owning?hours=0").text


def test_repair_or_replace_turns_with_the_value(client: Client, service: Service) -> None:
    start = {"title": "A fallen post", "size": "4/4", "style": "classical", "tier": "student", "ready_value": "1500"}
    answers = {"soundpost_standing": {"outcome": "fallen"}}
    identity = create(service.engine, "violin", {"start": start, "answers": answers}, NOW)
    path = f"/evaluations/{identity}/repair-or-replace"
    page = client.get(path)
    assert page.heading.startswith("Have it repaired") and "for this alone" in page.text
    assert client.get(f"{path}?ready=20&as_it_is=0").heading.startswith("The repair costs more")
    assert "less the trade-in $350" in client.get(f"{path}?equal=450&trade=100").text
    assert client.get(f"{path}?ready=0").heading == "Repair it, or replace it?"
    assert "is not a number" in client.get(f"{path}?equal=much", 422).text
