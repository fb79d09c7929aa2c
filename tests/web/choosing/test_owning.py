"""Owning it and rent or buy: the figures of the page are those of the sums, and what is no number is told."""

import pytest

from evaluator.choosing.ownership import usual_prices
from evaluator.store.evaluations import create
from evaluator.web.service import Service
from tests.known import OWNING
from tests.web.conftest import NOW, Client

MEMORY = "string_set=65&rehair=85&light_service=41&full_service=211&reserve=40&sundries=20"


def test_five_years_of_a_learner(client: Client, draft: str) -> None:
    # 150 hours a year; 325 + 255 + 621 + 40 + 200 + 100, by prices from memory.
    page = client.get(f"/evaluations/{draft}/owning?hours=2.88&value=1000&{MEMORY}")
    for figure in ("$325", "$255", "$621", "$40", "$200", "$100"):
        assert f">{figure}<" in page.source
    assert page.heading == "About $1,541 over 5 years, beside the price."


def test_prices_come_from_the_list_of_work_and_the_shop_file(client: Client, service: Service, draft: str) -> None:
    usual = usual_prices(service.rubric("violin"), service.rubric("bow"), service.shop, OWNING.habits, "student")
    source = client.get(f"/evaluations/{draft}/owning").source
    assert f'name="rehair" value="{usual.rehair:.0f}"' in source
    assert f'name="string_set" value="{usual.string_set:.0f}"' in source
    keeping = service.shop.keeping.model_copy(update={"rehair": 77.0, "full_service": {"violin": 199.0}})
    service.shop = service.shop.model_copy(update={"keeping": keeping})
    source = client.get(f"/evaluations/{draft}/owning").source
    assert 'name="rehair" value="77"' in source and 'name="full_service" value="199"' in source


@pytest.mark.parametrize(
    ("winter", "summer", "words"),
    [
        (25, 62, ("Too dry", "top would shrink by up to 1.", "Pegs that fit", "stand higher in the damp season")),
        (37, 58, ("Rather dry at 37", "Moisture and movement")),
        (38, 70, ("Rather dry in one season and damp in the other",)),
        (45, 75, ("Rather damp at 75",)),
        (45, 55, ("Good: both seasons lie within 40 to 60", "common advice, from memory")),
        (50, 50, ("hardly move",)),
    ],
)
def test_the_owners_air_is_told_in_plain_words(
    client: Client, draft: str, winter: int, summer: int, words: tuple[str, ...]
) -> None:
    air = f"winter_humidity={winter}&summer_humidity={summer}&winter_degrees=20&summer_degrees=20"
    text = client.get(f"/evaluations/{draft}/owning?{air}").text
    assert all(word in text for word in words), text


def test_an_example_room_fills_in_its_figures_and_keeps_the_rest(client: Client, draft: str) -> None:
    source = client.get(f"/evaluations/{draft}/owning?rehair=99").source
    assert "winter_humidity=28" in source and "summer_humidity=62" in source and "rehair=99" in source


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
    page = client.get(f"/rent-or-buy?months={months}&service=198")
    for figure in figures:
        assert f": {figure}<" in page.source
    assert page.heading == f"After {months} months: {figures[0]} to rent and give back, {figures[2]} to buy and sell."


def test_a_bow_wears_out_hair_alone(client: Client, service: Service) -> None:
    start = {"title": "A stick", "size": "violin 4/4", "style": "classical", "tier": "student"}
    bow = create(service.engine, "bow", {"start": start, "answers": {}}, NOW)
    source = client.get(f"/evaluations/{bow}/owning").source
    assert source.count(">$0<") == 2
    assert "left tight as the heating starts" in source and "The strings stand higher" not in source


@pytest.mark.parametrize("text", ["", "lots", "-3", "nan", "1e9", "99999999"])
def test_what_is_no_number_is_told_and_kept(client: Client, draft: str, text: str) -> None:
    owning = f"/evaluations/{draft}/owning"
    for path, name in ((owning, "rehair"), (owning, "summer_humidity"), ("/rent-or-buy", "rent")):
        page = client.get(f"{path}?{name}={text}", 422)
        assert f'value="{text}"' in page.source and page.source.count('class="wrong"') == 1
        assert page.source.count('aria-invalid="true"') + page.source.count("aria-invalid=true") == 1


def test_no_playing_at_all_still_has_a_service_date(client: Client, draft: str, service: Service) -> None:
    assert "2026" in client.get(f"/evaluations/{draft}/owning?hours=0").text


def test_repair_or_replace_turns_with_the_value(client: Client, service: Service) -> None:
    start = {"title": "A fallen post", "size": "4/4", "style": "classical", "tier": "student", "ready_value": "1500"}
    answers = {"soundpost_standing": {"outcome": "fallen"}}
    identity = create(service.engine, "violin", {"start": start, "answers": answers}, NOW)
    path = f"/evaluations/{identity}/repair-or-replace"
    page = client.get(path)
    assert page.heading.startswith("Have it repaired") and "if it is ordered alone" in page.text
    assert client.get(f"{path}?ready=20&as_it_is=0").heading.startswith("The repair costs more")
    assert "less the trade-in $350" in client.get(f"{path}?equal=450&trade=100").text
    assert client.get(f"{path}?ready=0").heading == "Repair it, or replace it?"
    assert "is not an amount" in client.get(f"{path}?equal=much", 422).text


@pytest.mark.parametrize(
    ("typed", "means"), [("2,5", "2.5"), ("1,500", "1500"), ("1,500.50", "1500.50"), ("12,50", "12.50")]
)
def test_a_comma_is_a_group_only_before_three_digits(client: Client, typed: str, means: str) -> None:
    one = client.get(f"/rent-or-buy?rent={typed}").heading
    assert one == client.get(f"/rent-or-buy?rent={means}").heading
