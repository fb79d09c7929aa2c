"""The words of the trade on pages: where one stands, its meaning is a tap away, and all of them stand on one page.

A word is a button that opens its meaning on the page itself (the browser's own popover), so that it works without
JavaScript and without a net. The meanings that a page needs are written once, behind what names them.
"""

from collections.abc import Iterator
from functools import lru_cache

from flask import Blueprint, g, render_template, request
from markupsafe import Markup, escape

from ..drawings.registry import DRAWINGS
from ..rubric.glossary import Glossary, Word, load_glossary
from ..store.folders import rubrics_folder

words_pages = Blueprint("words_pages", __name__)
MOST_TEXTS = 4_096
PUNCTUATION = frozenset("?!.,;:)")
WHOLE = Markup('<button type="button" class="word" popovertarget="{}">{}</button>')
LIGHT = Markup('<button popovertarget="{}">{}</button>')
JOINED = Markup('<span class="joined">{}{}</span>')  # else a line breaks between a word to tap and the stroke behind it


@words_pages.get("/words")
def every_word() -> str:
    """All words with their meaning and drawing, by letter."""
    return render_template("words.html", letters=glossary().by_letter, picture_of=picture_of)


@lru_cache(maxsize=1)
def glossary() -> Glossary:
    """The glossary of this program; a mistake in it is a bug and raises."""
    found, problems = load_glossary(rubrics_folder() / "glossary.yaml")
    if found is None:
        raise RuntimeError("; ".join(map(str, problems)))
    return found


def picture_of(word: Word) -> tuple[str, str] | None:
    """The address of the drawing of how it should be, and what is on it; None where nothing shows the word."""
    if word.drawing is None:
        return None
    panels = DRAWINGS[word.drawing].panels
    number = next((at for at, panel in enumerate(panels) if panel.judged == "right"), 0)
    return f"/drawings/{word.drawing}-{number}.svg", panels[number].caption


def word(text: str) -> Markup:
    """A name with its meaning a tap away; as it is where no word is called so."""
    return _tap(text, glossary().called(text))


def marked(text: str) -> Markup:
    """A text in which each word of the trade can be tapped, the first time that it stands on the page."""
    told: set[str] = _here("told")
    pieces: list[Markup] = []
    for piece, found in _parted(text):
        fresh, rest = found is not None and found.slug not in told, piece
        if pieces and pieces[-1].endswith("</button>") and piece[:1] in PUNCTUATION:
            pieces[-1] = JOINED.format(pieces[-1], piece[0])
            rest = piece[1:]
        pieces.append(_tap(rest, found if fresh else None))
        if found is not None:
            told.add(found.slug)
    return Markup("").join(pieces)


def words_again(light: bool = False) -> str:
    """From here on each word can be tapped once more: what is shown by itself needs its own.

    `light`: as a bare button, for a look that does not stand open; looks.js makes a whole one of it.
    """
    _here("told").clear()
    (_here("light").add if light else _here("light").discard)("light")
    return ""


def words_met() -> Iterator[tuple[str, Word, tuple[str, str] | None]]:
    """The words named since this was last asked: the id that their buttons open, the word and its drawing."""
    met: set[str] = _here("met")
    if not met:
        return iter(())
    wanted = [one for one in glossary().words if one.slug in met]
    met.clear()
    drawn = (
        request.blueprint != "sections"
    )  # a section may name a hundred words; their drawings stand on the page of words
    return ((_identity(one), one, picture_of(one) if drawn else None) for one in wanted)


@lru_cache(maxsize=MOST_TEXTS)
def _parted(text: str) -> tuple[tuple[str, Word | None], ...]:
    return tuple(glossary().parted(text))


def _tap(text: str, found: Word | None) -> Markup:
    if found is None:
        return escape(text)
    _here("met").add(found.slug)
    button = LIGHT if _here("light") else WHOLE
    return button.format(_identity(found), text)


def _identity(one: Word) -> str:
    """The id of its meaning on this page; a section that another page fetches has ids of its own."""
    place = (request.view_args or {}) if request.blueprint == "sections" else {}
    return "-".join(("w", *(str(place[key]) for key in ("section", "part") if key in place), one.slug))


def _here(name: str) -> set[str]:
    """What was told or met on the page that is being written."""
    kept: dict[str, set[str]] = g.setdefault("words", {})
    return kept.setdefault(name, set())
