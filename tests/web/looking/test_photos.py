"""Photos of a look: added, shown, taken off; what is no photo is told, and nothing else is lost."""

import io

from PIL import Image

from evaluator.store.evaluations import find
from evaluator.store.photos import MOST_BYTES
from evaluator.web.looking.photos import ENVELOPE, MOST_A_LOOK
from evaluator.web.service import Service, case_of
from tests.web.conftest import Client


def picture(shade: int = 90, size: tuple[int, int] = (60, 40), kind: str = "JPEG") -> io.BytesIO:
    written = io.BytesIO()
    Image.new("RGB", size, (shade, 60, 30)).save(written, kind)
    written.seek(0)
    return written


def noisy() -> io.BytesIO:
    """A picture of a few megabytes, as a phone takes them."""
    written = io.BytesIO()
    Image.effect_noise((1600, 1200), 60).save(written, "PNG")
    written.seek(0)
    return written


def add(client: Client, identity: str, content: io.BytesIO, check: str = "purfling") -> tuple[int, dict[str, object]]:
    reply = client.http.post(
        f"/evaluations/{identity}/photos/{check}",
        data={"csrf_token": client.token(), "by": "Ada", "photo": (content, "IMG_1.jpg")},
        headers={"Accept": "application/json"},
    )
    return reply.status_code, reply.get_json()


def test_a_photo_is_kept_with_its_look_and_reaches_the_result(client: Client, service: Service, draft: str) -> None:
    status, told = add(client, draft, picture())
    assert status == 200
    (name,) = told["photos"]  # type: ignore[misc]
    with client.http.get(f"/photos/{name}.jpg") as reply:
        assert (reply.mimetype, reply.status_code) == ("image/jpeg", 200)
    kept = find(service.engine, draft)
    assert kept is not None
    assert kept.typed["photos"]["purfling"][0]["by"] == "Ada"
    case, _ = case_of(service.rubric("violin"), kept.typed)
    assert case.observations["purfling"][0].photos == (name,)


def test_a_phones_large_photo_is_taken(client: Client, draft: str) -> None:
    content = noisy()
    assert len(content.getvalue()) > 1_200_000
    with client.http.post(
        f"/evaluations/{draft}/photos/purfling",
        data={"csrf_token": client.token(), "photo": (content, "IMG_2.png")},
        headers={"Accept": "application/json"},
    ) as reply:
        assert reply.get_json()["problem"] == ""
        reply.request.close()
        reply.request.environ["wsgi.input"].close()  # the body lay in a file of the test client


def test_a_plain_form_takes_a_photo_and_goes_back_to_the_look(client: Client, draft: str) -> None:
    fields = {"csrf_token": client.token(), "photo": (picture(), "IMG_1.jpg")}
    reply = client.http.post(f"/evaluations/{draft}/photos/purfling", data=fields)
    assert reply.status_code == 302
    fields = {"csrf_token": client.token(), "photo": (io.BytesIO(b"nothing"), "x.jpg")}
    page = client.post(f"/evaluations/{draft}/photos/purfling", fields)
    assert page.path.endswith("/looks")


def test_what_is_no_photo_is_told_in_one_sentence(client: Client, service: Service, draft: str) -> None:
    status, told = add(client, draft, io.BytesIO(b"no picture at all"))
    assert (status, told["problem"]) == (
        422, "This is not a photo that can be opened. Send a JPEG, PNG, WebP or HEIC picture.",
    )  # fmt: skip
    kept = find(service.engine, draft)
    assert kept is not None
    assert "photos" not in kept.typed or kept.typed["photos"] == {}


def test_forty_megabytes_are_refused(client: Client, draft: str) -> None:
    reply = client.http.post(
        f"/evaluations/{draft}/photos/purfling",
        input_stream=io.BytesIO(b""),
        environ_overrides={"CONTENT_LENGTH": str(MOST_BYTES + 2 * ENVELOPE)},
        content_type="multipart/form-data; boundary=x",
        headers={"X-CSRFToken": client.token()},
    )
    assert reply.status_code == 413
    assert "That file is too large" in reply.get_data(as_text=True)


def test_a_look_holds_a_few_photos_and_one_can_be_taken_off(client: Client, service: Service, draft: str) -> None:
    for number in range(MOST_A_LOOK):
        assert add(client, draft, picture(20 + 20 * number))[0] == 200
    status, told = add(client, draft, picture(200))
    assert (status, told["problem"]) == (422, f"A look holds {MOST_A_LOOK} photos. Take one off first.")
    kept = find(service.engine, draft)
    assert kept is not None
    name = kept.typed["photos"]["purfling"][0]["name"]
    client.post(f"/evaluations/{draft}/photos/purfling/remove", {"csrf_token": client.token(), "name": name})
    kept = find(service.engine, draft)
    assert kept is not None
    assert len(kept.typed["photos"]["purfling"]) == MOST_A_LOOK - 1


def test_no_photo_of_this_name(client: Client) -> None:
    assert client.http.get(f"/photos/{'0' * 64}.jpg").status_code == 404
    assert client.http.get("/photos/..%2Fsecret-key.jpg").status_code == 404
