"""From a shop file, or one that extends another, to a checked shop: everything that is wrong with it at once."""

from collections.abc import Sequence
from pathlib import Path
from typing import Any

from pydantic import ValidationError

from ...basis.document import Document
from ...basis.message import Message, Messages
from ...basis.problem import Place, Problem, by_place
from ..shop import Shop
from .amounts import shop_read
from .mistakes import problems_of
from .overlay import merged
from .sources import Sources, read_file

MESSAGES: Messages = {
    "shop.extends": Message(
        'there is no shop file "{name}" to extend.', "Write default, or the path of a file beside this."
    ),
}
DEFAULT_CURRENCY = str(Shop.model_fields["currency"].default)


def load_shop(path: Path, default: Path | None = None) -> tuple[Shop | None, tuple[Problem, ...]]:
    """The shop file at a path, or every mistake in it.

    A file that begins with `extends:` need only say what differs from another shop file: one beside it, or `default`,
    which is the built-in file that the caller names.
    """
    shop, _, problems = read_shop(path, default)
    return shop, problems


def read_shop(path: Path, default: Path | None = None) -> tuple[Shop | None, tuple[Document, ...], tuple[Problem, ...]]:
    """The shop, the texts that it is made of (the most general first), and every mistake."""
    sources = Sources()
    layers = tuple(_shop_layers(path, default, sources))
    if sources.problems:
        return None, layers, by_place(sources.problems)
    combined: dict[Any, Any] = {}
    told = [layer.data["currency"] for layer in layers if isinstance(layer.data.get("currency"), str)]
    for document in layers:
        data, wrong = shop_read(document, told[-1] if told else DEFAULT_CURRENCY)
        sources.problems += wrong
        combined = merged(combined, {key: value for key, value in data.items() if key != "extends"})
    try:
        shop = Shop.model_validate(combined)
    except ValidationError as error:
        told_already = {one.place for one in sources.problems}
        found = problems_of(error, combined, lambda p, k: latest_place(layers, p, k), Shop, sources.hints)
        sources.problems += [one for one in found if one.place not in told_already]
        shop = None
    return (None if sources.problems else shop), layers, by_place(sources.problems)


def _shop_layers(path: Path, default: Path | None, sources: Sources) -> list[Document]:
    """The shop's file after the files that it extends, the most general first."""
    document = read_file(path, str(path), sources)
    if document is None:
        return []
    base = document.data.get("extends")
    if base is None:
        return [document]
    other = default if base == "default" else path.parent / str(base)
    if other is None or not other.is_file() or str(other) in sources.documents:
        sources.note(MESSAGES, "shop.extends", "", document.place("extends"), name=base)
        return []
    return [*_shop_layers(other, default, sources), document]


def latest_place(layers: Sequence[Document], path: Sequence[object], key: bool) -> Place:
    """The place in the last file that says it."""
    for document in reversed(layers):
        here: Any = document.spot
        for step in path:
            here = here.child(step) if here else None
        if here:
            return document.place(*path, key=key)
    return layers[-1].place(*path, key=key)
