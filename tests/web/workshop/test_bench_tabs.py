"""Two people at one work order lose nothing; a clock counts the hours; shared labour is logged."""

from evaluator.quoting.work_order import WorkOrder
from evaluator.web.service import Service
from tests.web.conftest import Client
from tests.web.quoting.steps import agree, kept_of, link_of


def begun(client: Client, service: Service, quote: str) -> WorkOrder:
    agree(client, link_of(client, quote))
    client.send(client.get(f"/quotes/{quote}/work"), action="/begin")
    return order(service, quote)


def order(service: Service, quote: str) -> WorkOrder:
    found = kept_of(service, quote).work
    assert found is not None
    return found


def hours(service: Service, quote: str) -> dict[str, float | None]:
    return {task.job: task.hours for task in order(service, quote).tasks}


def test_two_tabs_on_two_jobs_keep_both(client: Client, service: Service, quote: str) -> None:
    first, second = (task.job for task in begun(client, service, quote).tasks[:2])
    tabs = [client.get(f"/quotes/{quote}/work") for _ in range(2)]
    client.send(tabs[0], {f"h-{first}": "1,5", f"p-{first}": "a blank"}, action="/work")
    client.send(tabs[1], {f"h-{second}": "2"}, action="/work")
    found = hours(service, quote)
    assert (found[first], found[second]) == (1.5, 2.0)
    assert order(service, quote).tasks[0].parts_used == "a blank"


def test_two_tabs_on_one_job_show_both_figures(client: Client, service: Service, quote: str) -> None:
    job = begun(client, service, quote).tasks[0].job
    tabs = [client.get(f"/quotes/{quote}/work") for _ in range(2)]
    client.send(tabs[0], {f"h-{job}": "1,5"}, action="/work")
    page = client.send(tabs[1], {f"h-{job}": "2"}, 409, action="/work")
    assert "somebody noted 1.5 meanwhile, and you typed 2" in page.text
    assert hours(service, quote)[job] == 1.5
    assert page.form("/work")[f"h-{job}"] == "2"
    client.send(page, action="/work")
    assert hours(service, quote)[job] == 2.0


def test_a_figure_can_be_taken_out_again(client: Client, service: Service, quote: str) -> None:
    job = begun(client, service, quote).tasks[0].job
    client.send(client.get(f"/quotes/{quote}/work"), {f"h-{job}": "1,5"}, action="/work")
    client.send(client.get(f"/quotes/{quote}/work"), {f"h-{job}": ""}, action="/work")
    assert hours(service, quote)[job] is None


def test_a_clock_runs_and_its_time_goes_to_the_job(client: Client, service: Service, quote: str) -> None:
    job = begun(client, service, quote).tasks[0].job
    page = client.send(client.get(f"/quotes/{quote}/work"), {"go": f"start:{job}"}, action="/work")
    assert "Runs since 05:06 UTC" in page.text
    service.now = lambda: "2026-03-04T06:21:07+00:00"
    client.send(page, {"go": f"stop:{job}"}, action="/work")
    assert hours(service, quote)[job] == 1.25
    assert order(service, quote).running == ()


def test_shared_labour_is_logged(client: Client, service: Service, quote: str) -> None:
    shared = begun(client, service, quote).shared
    page = client.send(client.get(f"/quotes/{quote}/work"), {"s-0": "0:30", "s-1": "0,25"}, action="/work")
    assert dict(order(service, quote).shared_hours) == {shared[0]: 0.5, shared[1]: 0.25}
    told = client.send(page, {"s-0": "a while"}, 422, action="/work")
    assert "no number of hours" in told.text and told.form("/work")["s-0"] == "a while"
