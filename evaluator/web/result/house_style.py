"""How the workshop's papers look, whatever they tell: its logo, its ways to be reached, and its signature."""

from dataclasses import replace

from ...papers.blocks import Paper
from ...store.evaluations import Kept
from ...store.photos import photo_path
from ...store.workshop.figures import SIGNATURE, choice_of, logo_of
from ..service import service


def logo_now() -> bytes | None:
    """The workshop's logo as a picture's bytes."""
    return _picture(logo_of(service().engine))


def ways_now() -> tuple[str, ...]:
    """How to reach the workshop, with its tax number, for the head of each page."""
    shop = service().shop
    return tuple(way for way in (*shop.address, shop.telephone, shop.email, shop.tax_number) if way)


def dressed(paper: Paper, of: Kept | None = None) -> Paper:
    """The paper in the house style: a logo of its own stays, else it gets the workshop's; and the signature. Its foot
    names the evaluation that it rests `of`.
    """
    signed = _picture(choice_of(service().engine, SIGNATURE)) or b""
    return replace(paper, logo=paper.logo or logo_now() or b"", signature=signed, foot=_foot(paper, of))


def headed(paper: Paper, of: Kept | None = None) -> Paper:
    """The same with the ways to reach the workshop at the head, for a paper that does not name them itself."""
    return dressed(replace(paper, contact=paper.contact or (ways_now() if paper.letterhead else ())), of)


def _foot(paper: Paper, of: Kept | None) -> str:
    return paper.foot if of is None else f"{paper.foot}, evaluation {of.id}, version {of.version}"


def _picture(name: str | None) -> bytes | None:
    place = photo_path(service().photos_folder, name) if name else None
    return place.read_bytes() if place else None
