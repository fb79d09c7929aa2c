"""Readings as typed at the bench: comma or point, fractions of an inch, a chosen unit, a tool, several at once."""

from collections.abc import Callable
from pathlib import Path

import pytest
from playwright.sync_api import Page as Tab
from playwright.sync_api import expect

from evaluator.result.model.score import Measured
from evaluator.store.evaluations import find
from evaluator.web.service import Service
from tests.web.conftest import BENCH, Client

LENGTH = "body_length"


def measured(service: Service, identity: str, check: str) -> Measured:
    kept = find(service.engine, identity)
    assert kept is not None
    return service.result(kept).conformity[check]


@pytest.mark.parametrize(
    ("text", "unit", "value_mm"),
    [
        ("355,5", "mm", 355.5),
        ("355.5", "mm", 355.5),
        ("35,55", "cm", 355.5),
        ("14", "in", 355.6),
        ("14 in", "mm", 355.6),
        ("14 1/64 in", "mm", 355.996875),
        ("13 63/64", "in", 355.203125),
        ("355; 356; 357", "mm", 356.0),
        ("35,5 cm; 14 in", "mm", 355.3),
    ],
)
def test_a_reading_counts_as_it_was_meant(
    client: Client, service: Service, draft: str, text: str, unit: str, value_mm: float
) -> None:
    page = client.get(f"/evaluations/{draft}/parts/whole")
    client.send(page, {f"r-{LENGTH}": text, f"u-{LENGTH}": unit, f"t-{LENGTH}": "tape"})
    assert measured(service, draft, LENGTH).value == pytest.approx(value_mm, abs=1e-3)
    again = client.get(f"/evaluations/{draft}/parts/whole").form()
    assert (again[f"r-{LENGTH}"], again[f"u-{LENGTH}"]) == (text, unit), "what was typed stands as it was typed"


def test_the_tool_decides_the_doubt(client: Client, service: Service, draft: str) -> None:
    doubts = []
    for tool in ("kitchen_scale", "letter_scale"):
        page = client.get(f"/evaluations/{draft}/parts/whole")
        mass = "weight_without_chin_rest"
        client.send(page, {f"r-{mass}": "430", f"t-{mass}": tool})
        doubts.append(measured(service, draft, mass).standard_uncertainty)
    assert doubts[0] > doubts[1] > 0


@pytest.mark.browser
def test_a_luthier_types_the_bench_readings_in_one_go(
    open_tab: Callable[..., Tab], service: Service, draft: str, tmp_path: Path
) -> None:
    tab = open_tab(BENCH)
    tab.goto(f"/evaluations/{draft}/parts/bridge")
    tab.locator("#r-bridge_thickness_top").fill("1,35")
    tab.locator("#r-bridge_height").fill("1 1/4")
    tab.locator("#u-bridge_height").select_option("in")
    expect(tab.locator(".saved")).to_have_text("Saved")
    tab.screenshot(path=tmp_path / "bench.png", full_page=True)
    tab.get_by_role("link", name="Result so far").click()
    tab.get_by_text("standard", exact=False).first.wait_for()
    tab.screenshot(path=tmp_path / "measured.png", full_page=True)
    expected = {"bridge_thickness_top": 1.35, "bridge_height": 31.75}
    for check, value_mm in expected.items():
        assert measured(service, draft, check).value == pytest.approx(value_mm, abs=1e-3)
