"""From a shop file, or one that extends another, to a checked shop: everything that is wrong with it at once.

Whose a figure is, is kept: a file that extends the default makes its own figures the workshop's, and every other stays
the default's and is named so. What is inherited in other money is converted, never given another sign.
"""

from collections.abc import Mapping, Sequence
from pathlib import Path

from pydantic import ValidationError

from ...basis.document import Data, Document, parse_document
from ...basis.problem import Message, Messages, Place, Problem, by_place
from ...basis.spots import Spot
from ..guide import Guide
from ..shop import Shop
from .amounts import in_other_money, shop_read
from .mistakes import problems_of
from .overlay import merged
from .sources import Sources, read_file

MESSAGES: Messages = {
    "shop.extends": Message(
        'there is no shop file "{name}" to extend.', "Write default, or the path of a file beside this."
    ),
    "shop.exchange": Message(
        "its prices are in {now}, and the figures that it extends are in {then}.",
        "Write exchange: what one {then} is in {now}, for example exchange: 0.92.",
    ),
}
NO_FIGURES = frozenset({"shop", "version", "is_default", "currency", "notes", "sources", "extends"})
NOT_INHERITED = ("is_default", "deposits", "notes", "sources")  # nobody asks for money before work without saying so
ASKED_NO_MORE = frozenset({"time_to_pay_days"})  # figures of before: files that have them are still read
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
    return _checked(tuple(_shop_layers(path, default, sources)), sources)


def read_shop_text(
    text: str, name: str, default: Path
) -> tuple[Shop | None, tuple[Document, ...], tuple[Problem, ...]]:
    """The same from a text that lies in no folder, called `name` in messages; it can extend the default alone."""
    sources = Sources()
    document, sources.problems[:] = parse_document(text, name)
    if document is None:
        return None, (), by_place(sources.problems)
    base, below = document.data.get("extends"), []
    if base == "default":
        below = _shop_layers(default, None, sources)
    elif base is not None:
        sources.note(MESSAGES, "shop.extends", "", document.place("extends"), name=base)
    return _checked((*below, document), sources)


def _checked(
    layers: tuple[Document, ...], sources: Sources
) -> tuple[Shop | None, tuple[Document, ...], tuple[Problem, ...]]:
    if sources.problems:
        return None, layers, by_place(sources.problems)
    combined = _combined(layers, sources)
    try:
        shop = Shop.model_validate(combined)
    except ValidationError as error:
        told_already = {one.place for one in sources.problems}
        found = problems_of(error, combined, lambda p, k: latest_place(layers, p, k), Shop, sources.hints)
        sources.problems += [one for one in found if one.place not in told_already]
        shop = None
    if sources.problems or shop is None:
        return None, layers, by_place(sources.problems)
    return shop.with_borrowed(_borrowed(layers)), layers, ()


def _combined(layers: Sequence[Document], sources: Sources) -> Data:
    """The figures of all layers, each over those before it; money of another currency converted, and whose it is."""
    combined: Data = {}
    currency = DEFAULT_CURRENCY
    for place, document in enumerate(layers):
        own = document.data.get("currency")
        now = own if isinstance(own, str) else currency
        if place and now != currency:
            combined = _exchanged(combined, document, currency, now, sources)
        currency = now
        data, wrong = shop_read(document, currency)
        data = {key: value for key, value in data.items() if key not in ASKED_NO_MORE}
        sources.problems += wrong
        if place:
            combined = {key: value for key, value in combined.items() if key not in NOT_INHERITED}
            if "prices" in data.get("guide", {}):
                combined["guide"] = {**combined.get("guide", {}), "from_memory": False}
        combined = merged(combined, {key: value for key, value in data.items() if key != "extends"})
    return combined


def _exchanged(combined: Data, document: Document, then: str, now: str, sources: Sources) -> Data:
    rate = document.data.get("exchange")
    if not isinstance(rate, int | float) or isinstance(rate, bool) or rate <= 0:
        sources.note(MESSAGES, "shop.exchange", "", document.place("currency"), now=now, then=then)
        return combined
    return in_other_money(combined, float(rate))


def _borrowed(layers: Sequence[Document]) -> tuple[str, ...]:
    """The names of the figures that only the default says: of a group of figures each, else the whole."""
    default = [layer.data for layer in layers if layer.data.get("is_default") is True]
    own = [layer.data for layer in layers if layer.data.get("is_default") is not True]
    if not own:
        return ()
    names = [name for data in default for name in _named(data) if name.partition(".")[0] not in NOT_INHERITED]
    mine = {name for data in own for name in _named(data)}
    whole = {"rates" for data in own if not isinstance(data.get("rates", {}), Mapping)}
    found = [name for name in dict.fromkeys(names) if name not in mine and name.partition(".")[0] not in whole]
    if "guide.prices" in mine:  # a workshop may have priced one class alone: the others stay from memory
        priced = {name for data in own for name in _priced(data)}
        found += [name for data in default for name in _priced(data) if name not in priced]
    return tuple(found)


def _priced(data: Data) -> list[str]:
    """'guide.prices.violin.maker' for each price of the guide that stands there."""
    guide = data.get("guide")
    prices = guide.get("prices") if isinstance(guide, Mapping) else None
    if not isinstance(prices, Mapping):
        return []
    return [
        f"guide.prices.{family}.{name}"
        for family, classes in prices.items()
        if isinstance(classes, Mapping)
        for name in classes
    ]


def _named(data: Data) -> list[str]:
    """'rates.repair' for what stands in a group, 'minimum_charge' for what stands alone; what is no figure is left."""
    found = []
    for key, value in data.items():
        if key in NO_FIGURES:
            continue
        found += [f"{key}.{inner}" for inner in value] if isinstance(value, Mapping) else [str(key)]
    return found


def _shop_layers(path: Path, default: Path | None, sources: Sources) -> list[Document]:
    """The shop's file after the files that it extends, the most general first."""
    document = read_file(path, str(path), sources)
    if document is None:
        return []
    base = document.data.get("extends")
    if base is None:
        return [document]
    other = default if base == "default" else path.parent / str(base)
    if other is None or not _is_there(other) or str(other) in sources.documents:
        sources.note(MESSAGES, "shop.extends", "", document.place("extends"), name=base)
        return []
    return [*_shop_layers(other, default, sources), document]


def _is_there(path: Path) -> bool:
    try:
        return path.is_file()
    except OSError:  # a name that is too long for the disk
        return False


def latest_place(layers: Sequence[Document], path: Sequence[object], key: bool) -> Place:
    """The place in the last file that says it."""
    for document in reversed(layers):
        here: Spot | None = document.spot
        for step in path:
            here = here.child(step) if here else None
        if here:
            return document.place(*path, key=key)
    return layers[-1].place(*path, key=key)


def first_guide(shop: Shop, default: Path) -> Guide:
    """The guide of the default shop file in the money of this shop: the opinion before any sale."""
    text = f"extends: default\nshop: default\ncurrency: {shop.currency}\nexchange: {shop.exchange!r}\n"
    found, _, problems = read_shop_text(text, "default", default)
    if found is None:
        raise ValueError(problems)  # our own file
    return found.guide
