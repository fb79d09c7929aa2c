"""What tells the hand of a bow's maker: stick, head and fittings, close up; and how firm the stick is."""

from functools import partial

from ..geometry.model import Drawing, plain, right, wrong
from ..geometry.pen import Pen
from .bow_shape import FROG_X, HAIR_Y, HEAD_X, RIDGE, STICK_Y, THROAT, frog, head, stick_and_button, whole

_MIDDLE = (HEAD_X + FROG_X) / 2


def _piece(pen: Pen) -> None:
    """A piece of the stick from the side."""
    pen.region(((10, 56), (230, 52)), ((230, 100), (10, 96)), mark="bare")
    pen.line((10, 56), (230, 52))
    pen.line((230, 100), (10, 96))


def _wood(pen: Pen) -> None:
    _piece(pen)
    for i in range(6):
        y = 62.0 + 6 * i
        pen.curve((12, y), (80, y + 1.5), (150, y - 1), (228, y), mark="thin")
    for i in range(14):
        x, y = 24.0 + 14.5 * i, 64.0 + (i * 11) % 27
        pen.line((x, y), (x + 6, y), mark="look")


def _fibre(pen: Pen) -> None:
    _piece(pen)
    for i in range(17):
        x = 16.0 + 12.5 * i
        pen.line((x, 57), (x + 13, 95), mark="look")
        pen.line((x + 13, 57), (x, 95), mark="thin")


def _pressed(pen: Pen, middle: float) -> None:
    """The hair resting on a string at its middle, with the bow leaned in."""
    whole(pen.at(0, 2), middle, stick="look")
    pen.disc((_MIDDLE, HAIR_Y + 5.5), 3, mark="thin", fill="shade")
    pen.arrow((_MIDDLE, 20), (_MIDDLE, STICK_Y + middle - 4))


def _faces(pen: Pen) -> None:
    _piece(pen)
    for y in (64.0, 76.0):
        pen.line((12, y), (228, y - 0.5), mark="thin")


def _clean(pen: Pen) -> None:
    _faces(pen)
    pen.line((12, 88), (228, 89), mark="look")


def _scorched(pen: Pen) -> None:
    _faces(pen)
    pen.blob((84, 97), (92, 80), (116, 74), (142, 82), (152, 97), mark="look", fill="dark")


def _close(pen: Pen) -> Pen:
    return pen.at(34, 24, 3.9)


def _nose(pen: Pen) -> None:
    near = _close(pen)
    head(near)
    near.disc((3, 17.8), 5, mark="look", fill=None)


def _planed(pen: Pen) -> None:
    """The head with its point gone, and how its ridge ran on."""
    near = _close(pen)
    cut = (RIDGE[-3], (10.4, 13.0), (11.4, 20.6))
    near.region(RIDGE[:-2], cut, (cut[-1], THROAT[0]), THROAT)
    near.shape(cut[-1], THROAT[0], (25.8, 21.8), (12, 21.4), fill="sheet")
    for y in (0.0, 0.7, 1.4):
        near.line((26, 22 + y * 0.6), (52, 22 + y), mark="thin")
    near.curve(*RIDGE[-3:], mark="hidden")
    near.line(*cut, mark="look")


def _handle(pen: Pen) -> Pen:
    near = pen.at(80, 52, 2.4)
    stick_and_button(near)
    frog(near)
    return near


def _complete(pen: Pen) -> None:
    near = _handle(pen)
    for text, word, tip in (
        ("ring", (-16, 30), (2, 17)), ("plate", (58, 32), (44, 18)), ("slide", (22, 36), (26, 19.4)),
        ("button", (50, -15.5), (56, -8.6)),
    ):  # fmt: skip
        near.word(word, text)
        x, y = word
        near.arrow((x, y - 6 if y > 0 else y + 1.5), tip, head=5)


def _no_ring(pen: Pen) -> None:
    near = _handle(pen)
    near.shape((-4, 10.6), (0, 10.6), (0, 20.4), (-4, 20.4), mark="bare", fill="sheet")
    near.shape((0, 11.4), (10, 11.4), (10, 19.8), (0, 19.2), mark="hidden", fill="sheet")
    for y in (13.4, 15.4, 17.4):
        near.line((0, y), (9, y), mark="thin")
    near.arrow((-14, 30), (0, 19))


def _facets(pen: Pen, crisp: bool) -> None:
    """The end of the stick over the frog: the edges between its faces, and the eye below."""
    pen.region(((10, 22), (230, 20)), ((230, 66), (10, 64)), mark="bare")
    pen.line((10, 22), (230, 20))
    pen.line((230, 66), (10, 64))
    pen.shape((60, 66), (230, 67), (230, 138), (60, 136), fill="shade")
    if crisp:
        for y in (35.0, 50.0):
            pen.line((12, y), (228, y), mark="look")
        pen.disc((146, 102), 20, fill="sheet")
        pen.disc((146, 102), 13, mark="thin", fill="tint")
        return
    for y in (35.0, 50.0):
        pen.curve((12, y), (60, y + 3), (108, y - 3), (150, y + 2), (186, y + 1), mark="look")
    pen.blob((122, 102), (132, 84), (152, 80), (172, 92), (170, 114), (150, 126), (130, 120), mark="look", fill="sheet")
    pen.disc((148, 103), 16, fill="tint")


DRAWINGS = (
    Drawing(
        "bow_stick_kind",
        "A piece of the stick, close up",
        (
            plain("Wood: fine grain along the stick, and short pores.", _wood),
            plain("Fibre: a weave under the lacquer, or a plain skin without any grain.", _fibre),
        ),
    ),
    Drawing(
        "bow_stiffness",
        "The bow at playing tension, leaned on a string",
        (
            right("The stick gives a little and stays clear of the hair.", partial(_pressed, middle=14)),
            wrong("The stick gives way until it touches the hair.", partial(_pressed, middle=20.5)),
        ),
    ),
    Drawing(
        "bow_scorch",
        "A piece of the stick from the side, hair below",
        (
            right("One colour all along.", _clean),
            wrong("A dark burnt place on the side of the hair, where it was bent.", _scorched),
        ),
    ),
    Drawing(
        "bow_nose",
        "The head from the side",
        (
            right("The point is whole and its edges are clear.", _nose),
            wrong("The point was broken and planed away; dashed, how it was.", _planed),
        ),
    ),
    Drawing(
        "bow_mountings",
        "The frog from the side",
        (right("Ring, slide, plate and button are all there.", _complete), wrong("The ring is missing.", _no_ring)),
    ),
    Drawing(
        "bow_handwork",
        "The stick over the frog, close up",
        (
            right("Edges run straight to the end, and the eye lies flush.", partial(_facets, crisp=True)),
            wrong("Edges wave and die away, and filler surrounds the eye.", partial(_facets, crisp=False)),
        ),
    ),
)
