"""What a luthier measures at the bench: typed on the work order, kept, on both papers, and lost by nobody."""

import io

from pypdf import PdfReader

from evaluator.web.service import Service
from tests.web.conftest import Client
from tests.web.workshop.test_bench_tabs import begun, hours, order

SCOOP = "m-scoop-1-found"


def paper(client: Client, path: str) -> str:
    pages = PdfReader(io.BytesIO(client.http.get(path).get_data())).pages
    return " ".join(" ".join(page.extract_text() for page in pages).split())


def test_readings_are_kept_as_typed_and_stand_on_the_papers(client: Client, service: Service, quote: str) -> None:
    begun(client, service, quote)
    page = client.get(f"/quotes/{quote}/work")
    sent = {SCOOP: "0,7", "m-groove_depth-3-found": "0.02 in", "m-groove_depth-3-after": "0", "m-peg_hole-0-after": "8"}
    shown = client.send(page, sent, action="/work")
    assert shown.form("/work")[SCOOP] == "0,7"
    kept = {(one.measure, one.place): (one.found, one.after) for one in order(service, quote).readings}
    assert kept[("groove_depth", "under the 4th string")] == ("0.02 in", "0")
    bench = paper(client, f"/quotes/{quote}/work.pdf")
    for said in ("Hollow of the board", "Under the 4th string (bass side) 0.7 mm", "0.51 mm 0 mm", "head 8 mm"):
        assert said in bench, bench
    times = {name: "1" for name in client.get(f"/quotes/{quote}/work").form("/work") if name.startswith("h-")}
    client.send(client.get(f"/quotes/{quote}/work"), {**times, "go": "done"}, action="/work")
    assert "0.51 mm" in client.get(f"/quotes/{quote}/after").text
    assert "0.7 mm not taken" in paper(client, f"/quotes/{quote}/after.pdf")


def test_what_cannot_be_is_told_and_all_else_is_kept(client: Client, service: Service, quote: str) -> None:
    job = begun(client, service, quote).tasks[0].job
    page = client.get(f"/quotes/{quote}/work")
    back = client.send(page, {SCOOP: "70", "m-scoop-0-found": "0.4", f"h-{job}": "1"}, 422, action="/work")
    assert "70 mm is not between -2 mm and 4 mm. Read it again" in back.text
    assert back.form("/work")[SCOOP] == "70"
    assert hours(service, quote)[job] == 1.0
    assert [one.found for one in order(service, quote).readings] == ["0.4"]


def test_two_people_at_one_reading_see_both(client: Client, service: Service, quote: str) -> None:
    begun(client, service, quote)
    tabs = [client.get(f"/quotes/{quote}/work") for _ in range(2)]
    client.send(tabs[0], {SCOOP: "0.7"}, action="/work")
    page = client.send(tabs[1], {SCOOP: "0.8", "m-scoop-0-found": "0.4"}, 409, action="/work")
    assert "somebody noted 0.7 meanwhile, and you typed 0.8" in page.text
    assert [one.found for one in order(service, quote).readings] == ["0.7", "0.4"]
