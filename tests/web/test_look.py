"""The colours of the style sheet: text reads on paper and on sheet, in light and in dark (WCAG 2.2, contrast ratio)."""

import re
from pathlib import Path

import pytest

import evaluator.web

SHEET = (Path(evaluator.web.__file__).parent / "static" / "app.css").read_text(encoding="utf-8")
TEXTS = ("ink", "soft", "accent", "good", "doubt", "stop")
LEAST = 6.0  # more than the 4.5 : 1 of the guideline, since it is read in a shop and at a bench


def tokens(scheme: str) -> dict[str, str]:
    light, dark = SHEET.split("@media (prefers-color-scheme: dark)", 1)
    text = light if scheme == "light" else dark.split("}", 1)[0]
    return dict(re.findall(r"--([a-z]+): (#[0-9a-f]{6})", text))


def luminance(colour: str) -> float:
    """Relative luminance of sRGB (WCAG 2.2, definition)."""

    def linear(value: float) -> float:
        return value / 12.92 if value <= 0.04045 else ((value + 0.055) / 1.055) ** 2.4

    red, green, blue = (linear(int(colour[i : i + 2], 16) / 255) for i in (1, 3, 5))
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(one: str, other: str) -> float:
    light, dark = sorted((luminance(one), luminance(other)), reverse=True)
    return (light + 0.05) / (dark + 0.05)


def test_contrast_of_black_on_white_is_21() -> None:
    assert contrast("#000000", "#ffffff") == pytest.approx(21)


@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize("text", TEXTS)
@pytest.mark.parametrize("ground", ["paper", "sheet"])
def test_text_reads(scheme: str, text: str, ground: str) -> None:
    colours = tokens(scheme)
    assert contrast(colours[text], colours[ground]) >= LEAST


def test_colours_are_written_only_as_tokens() -> None:
    rules = SHEET.split("*, *::before", 1)[1].split("@media print", 1)[0]
    assert re.findall(r"#[0-9a-f]{3,8}\b", rules) == []
