"""The catalogue of everything that can be wrong with a rubric or shop file: one code, one wording.

Each wording lives beside the code that finds the mistake; here they come together for reading aloud and for the tests.
"""

import re

from ...basis.document import MESSAGES as DOCUMENT
from ...basis.formulas.reading import MESSAGES as FORMULA
from ...basis.problem import Messages
from ...basis.typed.hours import MESSAGES as HOURS
from ...basis.typed.money import MESSAGES as MONEY
from ...basis.typed.numbers import MESSAGES as NUMBERS
from ..facts import BENCH, OWNING
from ..files.load import MESSAGES as LOAD
from ..files.mistakes import MESSAGES as SHAPE
from ..files.overlay import MESSAGES as OVERLAY
from ..files.references import MESSAGES as REFERENCE
from ..files.shop_file import MESSAGES as SHOP_FILE
from ..files.sources import MESSAGES as SOURCES
from ..glossary import MESSAGES as GLOSSARY
from .checks import MESSAGES as CHECKS
from .fitting import MESSAGES as FITTING
from .formulas import MESSAGES as CHECK_FORMULAS
from .jobs import MESSAGES as JOBS
from .limits.sizes import MESSAGES as SIZES
from .limits.standards import MESSAGES as STANDARDS
from .looks import LIKENESSES, SAFETY
from .making import MESSAGES as MAKING
from .shop import GUIDE, SHOP
from .whole import MESSAGES as WHOLE

# Title of a chapter and its messages, from the form of the text to the sense of the whole.
CHAPTERS: tuple[tuple[str, Messages], ...] = (
    ("The file and its YAML", {**SOURCES, **DOCUMENT}),
    ("Keys and values", SHAPE),
    ("Formulas", FORMULA),
    ("Prices, hours and shares", {**MONEY, **HOURS, **NUMBERS}),
    ("Rubric and shop files", {**LOAD, **SHOP_FILE}),
    ("Overlays", OVERLAY),
    ("Names that lead nowhere", REFERENCE),
    ("Checks that make no sense", {**CHECKS, **CHECK_FORMULAS}),
    ("What may hurt an instrument", SAFETY),
    ("Standards that make no sense", {**STANDARDS, **SIZES}),
    ("Jobs that make no sense", JOBS),
    ("What a job is fit for", FITTING),
    ("Classes and signs of making that make no sense", MAKING),
    ("Likenesses that make no sense", LIKENESSES),
    ("The whole rubric", WHOLE),
    ("Shop files that make no sense", SHOP),
    ("Price guides that make no sense", GUIDE),
    ("The words of the trade", GLOSSARY),
    ("What an owner meets", OWNING),
    ("What the bench measures", BENCH),
)
CATALOGUE: Messages = {code: message for _, messages in CHAPTERS for code, message in messages.items()}
_BLANK = re.compile(r"\{(\w+?)_?(?::g)?\}")


def catalogue_text() -> str:
    """Every message for reading aloud, under its chapter, with <words> where a name or number will stand."""
    lines: list[str] = []
    for title, messages in CHAPTERS:
        lines += ["", title, ""]
        for code, message in messages.items():
            said = f"{message.what} {message.do}".strip()
            said = _BLANK.sub(lambda found: f"<{found[1].replace('_', ' ')}>", said)
            lines.append(f"  {code}: {said.replace('{{', '{').replace('}}', '}')}")
    return "\n".join(lines[1:]) + "\n"
