"""The page of a finished result is written once; each visitor gets it with a token of one's own."""

from evaluator.web.app import create_app
from evaluator.web.service import Service
from tests.web.conftest import Client


def test_the_page_of_a_finished_result_is_written_once_for_all_with_ones_own_token(
    client: Client, service: Service, draft: str
) -> None:
    path = f"/evaluations/{draft}/result"
    open_page = client.get(path)
    assert len(service.pages) == 0, "a draft's is not kept"
    mine = client.send(open_page, action="/finish")
    assert len(service.pages) == 1
    other = Client(create_app(service, "a key for tests"))
    theirs = other.get(path)
    tokens = [page.form("/again")["csrf_token"] for page in (mine, theirs)]
    assert tokens[0] != tokens[1] and mine.text == theirs.text and len(service.pages) == 1
    sent = other.post(f"/evaluations/{draft}/again", {"csrf_token": tokens[1]})
    assert sent.path != path, "the form of a kept page can be sent"
    other.post(f"/evaluations/{draft}/again", {"csrf_token": tokens[0]}, 400)
