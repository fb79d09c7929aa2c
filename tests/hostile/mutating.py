"""Sound files spoilt at random, as hands, programs and bad disks spoil them: the same number gives the same text."""

import re
from collections.abc import Callable, Sequence
from random import Random

NASTY = (
    "", "null", "true", "no", "~", "[]", "{}", "-1", "0", "1e999", "-0.0", ".nan", ".inf", "9" * 310, "0x1F", "1_000",
    "12:30", "2026-02-30", "1/0", "1/64", "٣٥٥", "2,35", "[[[[[[1]]]]]]", "&a [*a, *a]", "*nobody", "<<: {a: 1}",
    "!!python/none x", "'", '"', "|", ">-", "@x", "`x`", "%YAML 1.2", "\0", "\x1b[31m", "\ud7ff\ufffe", "\u202eevil",
    "🎻" * 40, "x" * 5_000, "- " * 60 + "1", "(" * 200 + "1" + ")" * 200, "a and " * 90 + "a", "- - 1", "{{7*7}}",
    "<b>", "../../etc", "a: b: c", "? x",
)  # fmt: skip
VALUE = re.compile(r"(?<=: )[^\n#]+|(?<=- )[^\n#:]+$", re.MULTILINE)
NUMBER = re.compile(r"-?\d+(?:\.\d+)?")
KEY = re.compile(r"^\s*(?:- )?([a-z_]+)(?=:)", re.MULTILINE)
CUTS = (1, 1, 1, 2, 4)  # what is spoilt once alone gets further in


def spoilt(seeds: Sequence[str], number: int) -> bytes:
    """One of the seeds with one to four things spoilt; bytes, since some are no text any more."""
    chance = Random(number)
    text = chance.choice(seeds)
    for _ in range(chance.choice(CUTS)):
        text = chance.choice(WAYS)(text, chance, seeds)
    content = text.encode("utf-8", "surrogatepass")
    return _bytes(content, chance) if chance.random() < 0.1 else content


def _bytes(content: bytes, chance: Random) -> bytes:
    found = bytearray(content)
    for _ in range(chance.randint(1, 8)):
        if found:
            found[chance.randrange(len(found))] = chance.randrange(256)
    return bytes(found) if chance.random() < 0.8 else content.decode("utf-8", "replace").encode("utf-16")


def _exchanged(pattern: re.Pattern[str], text: str, chance: Random, new: Callable[[str], str]) -> str:
    """The text with one match of the pattern changed."""
    places = [match.span(match.lastindex or 0) for match in pattern.finditer(text)]
    if not places:
        return text
    start, end = chance.choice(places)
    return text[:start] + new(text[start:end]) + text[end:]


def _value(text: str, chance: Random, _seeds: Sequence[str]) -> str:
    return _exchanged(VALUE, text, chance, lambda _: chance.choice(NASTY))


def _other_value(text: str, chance: Random, seeds: Sequence[str]) -> str:
    others = VALUE.findall(chance.choice((text, chance.choice(seeds)))) or ["1"]
    return _exchanged(VALUE, text, chance, lambda _: chance.choice(others))


def _number(text: str, chance: Random, _seeds: Sequence[str]) -> str:
    ways = (
        lambda n: f"-{n}",
        lambda n: f"{n}00000",
        lambda n: "0",
        lambda n: f"{n}.5",
        lambda n: n[::-1],
        lambda n: f"{n} mm",
    )
    return _exchanged(NUMBER, text, chance, chance.choice(ways))


def _key(text: str, chance: Random, _seeds: Sequence[str]) -> str:
    others = KEY.findall(text) or ["x"]
    ways = (
        lambda k: k[:-1],
        lambda k: k.upper(),
        lambda k: chance.choice(others),
        lambda k: "",
        lambda k: k + chance.choice(NASTY),
    )
    return _exchanged(KEY, text, chance, chance.choice(ways))


def _lines(text: str, chance: Random, _seeds: Sequence[str]) -> str:
    lines = text.split("\n")
    first = chance.randrange(len(lines))
    last = min(len(lines), first + chance.randint(1, 6))
    part = lines[first:last]
    way = chance.randrange(5)
    if way == 0:
        lines[first:last] = []
    elif way == 1:
        lines[last:last] = part * chance.choice((1, 1, 3, 300))
    elif way == 2:
        lines[first:last] = [" " * chance.randint(1, 5) + line for line in part]
    elif way == 3:
        lines[first:last] = [line.lstrip() for line in part]
    else:
        lines[first:last] = reversed(part)
    return "\n".join(lines)


def _letters(text: str, chance: Random, _seeds: Sequence[str]) -> str:
    place = chance.randrange(len(text) + 1)
    gone = chance.choice((0, 0, 1, 3, 40))
    put = chance.choice(("", *":-[]{}#&*!|>'\"%@`,?\t\r\n ", "\u2028", "\ufeff"))
    return text[:place] + put + text[place + gone :]


def _cut(text: str, chance: Random, _seeds: Sequence[str]) -> str:
    return text[: chance.randrange(len(text) + 1)]


def _spliced(text: str, chance: Random, seeds: Sequence[str]) -> str:
    other = chance.choice(seeds).split("\n")
    here = text.split("\n")
    place, start = chance.randrange(len(here)), chance.randrange(len(other))
    return "\n".join([*here[:place], *other[start : start + chance.randint(1, 30)], *here[place:]])


WAYS = (
    *(_value, _other_value, _other_value, _number, _number, _number, _key, _lines, _lines, _letters),
    *(_value, _other_value, _cut, _spliced),
)
