"""A length from a photo with a bank card: marked with bare taps, with a finger under the glass, and by the keyboard."""

import io
from collections.abc import Callable

import cv2
import numpy as np
import pytest
from PIL import Image
from playwright.sync_api import Page as Tab
from playwright.sync_api import expect

from evaluator.lutherie.photographs.laying import LAYINGS
from evaluator.store.evaluations import create, find, save_plan
from evaluator.store.photos import EXIF_PART, FILM_FOCAL, WHOLE_SIZE, film_focal
from evaluator.web.service import Service, case_of
from evaluator.wording.photographs import ASKED, marks_asked
from tests.lutherie.photographs.scenes import SIZE, Scene, rendered, scene
from tests.web.conftest import NOW, PHONE, Client
from tests.web.page import Page

CHECK = "string_length"
FILM = 26


@pytest.fixture(scope="module")
def truth() -> Scene:
    """A violin's strings from above, a card on them."""
    return scene(CHECK, np.random.default_rng(3), written=True, film=float(FILM))


@pytest.fixture(scope="module")
def photo(truth: Scene) -> bytes:
    """That picture as a phone writes it, its focal length inside."""
    written, exif = io.BytesIO(), Image.Exif()
    exif.get_ifd(EXIF_PART)[FILM_FOCAL] = FILM
    grey = cv2.GaussianBlur(rendered(truth, 1.0), (0, 0), 0.5)
    Image.fromarray(grey.astype(np.uint8)).convert("RGB").save(written, "JPEG", quality=92, exif=exif)
    return written.getvalue()


@pytest.fixture
def visit(service: Service) -> str:
    start = {"title": "Red violin", "size": "4/4", "style": "classical", "tier": "student", "looker": "student"}
    identity = create(service.engine, "violin", {"start": start, "answers": {}}, NOW)
    save_plan(service.engine, identity, {"looks": [CHECK, "purfling"], "channel": "in_person"})
    return identity


def sent(client: Client, identity: str, content: bytes) -> Page:
    """The page of the marks, behind the photo that was sent."""
    page = client.get(f"/evaluations/{identity}/photo-length/{CHECK}")
    fields = {**page.form(), "photo": (io.BytesIO(content), "strings.jpg")}
    return client.post(f"{page.path}/photo", fields)


def tapped(client: Client, page: Page, place: tuple[float, float], status: int = 200) -> Page:
    fields = {**page.form(), "tap.x": str(round(place[0])), "tap.y": str(round(place[1]))}
    return client.post(page.path, fields, status)


def reading_of(service: Service, identity: str) -> tuple[float, float, str]:
    kept = find(service.engine, identity)
    assert kept is not None
    (seen,) = case_of(service.rubric("violin"), kept.typed)[0].observations[CHECK]
    assert seen.reading is not None
    return seen.reading.value, seen.reading.u, seen.reading.tool or ""


def test_bare_taps_give_a_reading_with_its_doubt(
    client: Client, service: Service, visit: str, photo: bytes, truth: Scene
) -> None:
    page = sent(client, visit, photo)
    for place in (*truth.corners, *truth.places):
        assert "give or take" not in page.text
        page = tapped(client, page, (place[0], place[1]))
    assert "give or take" in page.text
    assert "Most of the doubt comes from" in page.text
    page = client.post(page.path, {**page.form(), "go": "keep"})
    assert page.path.endswith("/looks")
    value, u, tool = reading_of(service, visit)
    assert tool == "card_photo"
    assert abs(value - truth.mm) < 2.5 * u
    assert 1.0 < u < 6.0


def test_one_photo_serves_a_second_length(client: Client, visit: str, photo: bytes) -> None:
    sent(client, visit, photo)
    page = client.get(f"/evaluations/{visit}/photo-length/body_stop")
    assert "Or one that you took before" in page.text
    link = next(a.attributes["href"] for a in page.tree.find("a") if "?photo=" in a.attributes.get("href", ""))
    assert "1 of 7" in client.get(link).text


def test_a_mark_is_taken_back_and_marks_may_be_typed(client: Client, visit: str, photo: bytes, truth: Scene) -> None:
    page = sent(client, visit, photo)
    page = tapped(client, page, (5.0, 5.0))
    assert "2 of 6" in page.text
    page = client.post(page.path, {**page.form(), "go": "less"})
    assert "1 of 6" in page.text
    marks = "; ".join(f"{x:.1f},{y:.1f}" for x, y in (*truth.corners, *truth.places))
    page = client.post(page.path, {**page.form(), "marks": marks, "go": "measure"})
    assert "give or take" in page.text
    page = client.post(page.path, {**page.form(), "marks": "12,7; moon", "go": "measure"}, 422)
    assert '"moon" is no mark' in page.text


def test_marks_that_are_no_card_are_told_and_stay(client: Client, visit: str, photo: bytes) -> None:
    page = sent(client, visit, photo)
    marks = "10,10; 700,20; 690,30; 15,900; 300,300; 900,300"
    page = client.post(page.path, {**page.form(), "marks": marks, "go": "measure"}, 422)
    assert page.form()["marks"] == marks.replace(";", ";")
    assert any(word in page.text for word in ("do not fit a flat bank card", "cannot be used"))


def test_what_is_no_photo_is_told(client: Client, visit: str) -> None:
    page = sent(client, visit, b"no picture")
    assert "This is not a photo that can be opened" in page.text


def test_lengths_that_a_photo_cannot_give_have_no_page(client: Client, visit: str) -> None:
    client.get(f"/evaluations/{visit}/photo-length/purfling", 404)
    assert "on a photo, with a bank card" in client.get(f"/evaluations/{visit}/looks").text


def test_the_focal_length_is_read_where_it_can_be_trusted(photo: bytes) -> None:
    assert film_focal(photo) == FILM
    assert film_focal(b"no picture") is None
    assert film_focal(b"") is None
    plain, cut = io.BytesIO(), io.BytesIO()
    picture = Image.open(io.BytesIO(photo))
    picture.save(plain, "JPEG")
    assert film_focal(plain.getvalue()) is None
    exif = Image.Exif()
    exif.get_ifd(EXIF_PART).update({FILM_FOCAL: FILM, WHOLE_SIZE[0]: SIZE[0], WHOLE_SIZE[1]: SIZE[1]})
    picture.crop((0, 0, 800, 800)).save(cut, "JPEG", exif=exif)
    assert film_focal(cut.getvalue()) is None


@pytest.mark.parametrize("name", LAYINGS)
def test_every_length_says_what_to_mark(name: str, service: Service) -> None:
    assert set(ASKED) == set(LAYINGS)
    assert len(marks_asked(name)) == 4 + LAYINGS[name].marks
    check = service.rubric("violin").checks[name]
    assert check.measure is not None
    assert "card_photo" in check.measure.tools


@pytest.mark.browser
def test_a_finger_marks_to_a_hair_under_the_glass(
    open_tab: Callable[..., Tab], client: Client, service: Service, visit: str, photo: bytes, truth: Scene
) -> None:
    path = sent(client, visit, photo)
    tab = open_tab(PHONE)
    name = path.form()["photo"]
    tab.goto(f"/evaluations/{visit}/photo-length/{CHECK}?photo={name}")
    stage, glass = tab.locator(".stage"), tab.locator(".glass")
    stage.locator("img").wait_for()
    tab.wait_for_function("() => document.querySelector('.stage img').naturalWidth > 0")
    drawn = np.random.default_rng(5)
    for place in (*truth.corners, *truth.places):
        box = stage.bounding_box()
        assert box is not None
        share = box["width"] / SIZE[0]
        near = place + drawn.uniform(-25, 25, 2)  # a finger is broad
        stage.click(position={"x": near[0] * share, "y": near[1] * share})
        pull_to(tab, place)
    assert glass.bounding_box()["width"] <= PHONE[0]  # type: ignore[index]
    tab.get_by_role("button", name="Work it out").click()
    tab.get_by_text("give or take").wait_for()
    tab.get_by_role("button", name="Keep this reading").click()
    tab.wait_for_url("**/looks*")
    value, u, _ = reading_of(service, visit)
    assert abs(value - truth.mm) < 2.5 * u
    assert u < 4.0


def pull_to(tab: Tab, place: np.ndarray) -> None:
    """Drag the picture under the glass until the last mark stands on the place, as near as whole points allow."""
    marks = tab.locator("#marks").input_value().split("; ")
    x, y = (float(one) for one in marks[-1].split(","))
    tab.locator(".glass").scroll_into_view_if_needed()
    box = tab.locator(".glass").bounding_box()
    assert box is not None
    middle = (box["x"] + box["width"] / 2, box["y"] + box["height"] / 2)
    tab.mouse.move(*middle)
    tab.mouse.down()
    tab.mouse.move(middle[0] + round(2 * (x - place[0])), middle[1] + round(2 * (y - place[1])), steps=3)
    tab.mouse.up()
    x, y = (float(one) for one in tab.locator("#marks").input_value().split("; ")[-1].split(","))
    assert abs(x - place[0]) < 1 and abs(y - place[1]) < 1


@pytest.mark.browser
def test_the_keyboard_sets_and_moves_a_mark(
    open_tab: Callable[..., Tab], client: Client, visit: str, photo: bytes
) -> None:
    page = sent(client, visit, photo)
    tab = open_tab(PHONE)
    tab.goto(f"/evaluations/{visit}/photo-length/{CHECK}?photo={page.form()['photo']}")
    tab.get_by_role("button", name="Set it by the keyboard").press("Enter")
    for key in ("ArrowLeft", "ArrowLeft", "Shift+ArrowUp", "ArrowDown"):
        tab.keyboard.press(key)
    expect(tab.locator("#marks")).to_have_value(f"{SIZE[0] / 2 - 2:.1f},{SIZE[1] / 2 - 24:.1f}")
    tab.get_by_role("button", name="Take the last mark back").click()
    expect(tab.locator("#marks")).to_have_value("")
