"""The faces of the papers: Source Serif for sentences and headings, Source Sans for the rest, embedded as TrueType.

Regular and bold cover Latin, Greek and Cyrillic; the italic covers Latin only and is used for our trade terms alone.
"""

from functools import cache
from html import escape
from pathlib import Path
from unicodedata import category

SERIF, SERIF_BOLD, SANS, SANS_BOLD, SANS_ITALIC = "Serif", "Serif-Bold", "Sans", "Sans-Bold", "Sans-Italic"


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


def drawable(text: str) -> str:
    """The text with what the faces cannot draw replaced by a visible mark, and control characters by spaces."""
    known = register()
    return "".join(
        char if ord(char) in known else " " if category(char) in {"Cc", "Zs", "Zl", "Zp"} else "?" for char in text
    )


def plain(text: str) -> str:
    """The one funnel for text set as a paragraph: drawable characters only, and no markup in it."""
    return escape(drawable(text), quote=False)
