"""The faces of the papers: Source Serif for sentences and headings, Source Sans for the rest, embedded as TrueType.

Regular and bold cover Latin, Greek and Cyrillic; the italic covers Latin only and is used for our trade terms alone.
Other letters (Georgian, Armenian, Thai, Vietnamese) are drawn with FiraGO of pymupdf-fonts, what that has not (Chinese,
Japanese, Korean) with faces of Debian's fonts-dejavu-core and fonts-droid-fallback where the computer has them; each is
opened when the first such letter comes. Scripts whose letters join, turn or run to the left would come out wrong letter
by letter, so that they are named to whoever typed them and not drawn.
"""

import re
from functools import cache
from html import escape
from io import BytesIO
from itertools import groupby
from pathlib import Path
from unicodedata import bidirectional, category

SERIF, SERIF_BOLD, SANS, SANS_BOLD, SANS_ITALIC = "Serif", "Serif-Bold", "Sans", "Sans-Bold", "Sans-Italic"
REGISTRY = "FiraGO"
OTHERS = {
    "Other": Path("/usr/share/fonts/truetype/dejavu/DejaVuSans.ttf"),
    "Far-Eastern": Path("/usr/share/fonts/truetype/droid/DroidSansFallbackFull.ttf"),
}
WORDS = {"♭": " flat", "♮": " natural", "♯": " sharp"}  # said where no face has the sign
MINUS = re.compile(r"(?<![\w.,-])-(?=[$€£]?\d)")  # a hyphen that stands for less than nothing
LATIN_END = 0x250
JOINING = ((0x0900, 0x0DFF), (0x0F00, 0x109F), (0x1780, 0x17FF), (0x1800, 0x18AF))  # Indic, Tibetan, Burmese, Khmer


@cache
def register() -> frozenset[int]:
    """Register the faces once with ReportLab; gives the code points that the text face can draw."""
    import font_source_sans_pro
    import font_source_serif_pro
    from reportlab.pdfbase import pdfmetrics
    from reportlab.pdfbase.ttfonts import TTFont

    serif = Path(font_source_serif_pro.font_directory)
    sans = Path(font_source_sans_pro.font_directory)
    faces = {
        SERIF: serif / "SourceSerifPro-Regular.ttf",
        SERIF_BOLD: serif / "SourceSerifPro-Semibold.ttf",
        SANS: sans / "SourceSansPro-Regular.ttf",
        SANS_BOLD: sans / "SourceSansPro-Semibold.ttf",
        SANS_ITALIC: sans / "SourceSansPro-It.ttf",
    }
    fonts = {name: TTFont(name, str(path)) for name, path in faces.items()}
    for font in fonts.values():
        pdfmetrics.registerFont(font)
    return frozenset(fonts[SANS].face.charToGlyph) & frozenset(fonts[SERIF].face.charToGlyph)


def _source(name: str) -> str | BytesIO:
    """Where a face lies; raises OSError or ImportError where it is not."""
    if name != REGISTRY:
        return str(OTHERS[name])
    from pymupdf_fonts.FiraGO_Regular import fontbuffer

    return BytesIO(fontbuffer)


@cache
def _other(name: str) -> frozenset[int]:
    """The code points of another face, registered now; empty where the computer does not have it."""
    from reportlab.pdfbase import pdfmetrics
    from reportlab.pdfbase.ttfonts import TTFError, TTFont

    try:
        font = TTFont(name, _source(name))
    except (TTFError, OSError, ImportError):
        return frozenset()
    pdfmetrics.registerFont(font)
    return frozenset(font.face.charToGlyph)


@cache
def _face_for(char: str) -> str | None:
    """The face that draws a letter which the papers' own do not have; None where none does."""
    code = ord(char)
    if bidirectional(char) in ("R", "AL") or any(first <= code <= last for first, last in JOINING):
        return None
    return next((name for name in (REGISTRY, *OTHERS) if code in _other(name)), None)


def _drawn_as(char: str) -> str:
    if ord(char) in register():
        return char
    if category(char) in {"Cc", "Zs", "Zl", "Zp"}:
        return " "
    return char if _face_for(char) else WORDS.get(char, "?")


def drawable(text: str) -> str:
    """The text as it is drawn: a minus is a minus, what no face can draw becomes words or a visible mark, and control
    characters become spaces.
    """
    known, text = register(), MINUS.sub("−", text)
    return "".join(char if ord(char) in known else _drawn_as(char) for char in text)


def undrawable(text: str) -> tuple[str, ...]:
    """The letters that a paper would show as a mark, each once; no face is opened for what Europe writes."""
    if all(ord(char) < LATIN_END for char in text):
        return ()
    return tuple(dict.fromkeys(char for char in text if char != "?" and _drawn_as(char) == "?"))


def runs(text: str, face: str) -> list[tuple[str, str]]:
    """Drawable text in pieces of one face: (face, piece)."""
    known = register()
    if all(ord(char) in known for char in text):
        return [(face, text)] if text else []
    pieces = groupby(text, key=lambda char: face if ord(char) in known else _face_for(char) or face)
    return [(name, "".join(chars)) for name, chars in pieces]


def plain(text: str) -> str:
    """The one funnel for text set as a paragraph: drawable characters only, and no markup of its own in it."""
    return "".join(
        f'<font name="{name}">{escape(piece, quote=False)}</font>' if name else escape(piece, quote=False)
        for name, piece in runs(drawable(text), "")
    )
