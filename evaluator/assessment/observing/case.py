"""One evaluation from its file or from the API: the instrument, what for, the prices and every answer, or all mistakes.

The names are those of the contract, format 1. `places` says where in a file each key stands, when there is a file.
"""

import re
from collections.abc import Iterable, Mapping
from typing import Protocol, TypeVar, get_args

from ...basis.money import Money
from ...basis.problem import Hints, Message, Messages, Place, Problem, by_place, problem
from ...basis.typed.money import read_money
from ...basis.typed.signs import sign_problem
from ...rubric.rubric import Rubric
from ...rubric.written.kinds import Age, Channel, Looker, StringType, Style, Tier
from ..model import Case, Instrument, Observation, Purpose
from .observe import read_observation
from .refusing import in_one_line
from .renaming import named_today

FORMAT = 1
KEYS = (
    "format",
    "rubric",
    "title",
    "instrument",
    "purpose",
    "asking",
    "ready_value",
    "seen_by",
    "looker",
    "observations",
)
INSTRUMENT_KEYS = ("size", "style", "tier", "about", "year", "age", "strings")
MOST_TEXT = 400
# The bands of age that priors use are decades wide, so they are counted from a fixed year: no clock in the sums, and
# the same file gives the same result in any year. "new" cannot be told from a year; a file says it by `age: new`.
AGE_COUNTED_FROM = 2025
EARLIEST_YEAR, LATEST_YEAR = 1500, 2100

MESSAGES: Messages = {
    "case.empty": Message("the evaluation is empty.", "Begin with format: 1 and rubric: violin."),
    "case.shape": Message("{what} must be a list of keys and values.", "Write it like {example}."),
    "case.unknown_key": Message('unknown key "{key}".', "{hint}"),
    "case.format": Message('the format "{text}" is not known.', "Write format: 1."),
    "case.no_rubric": Message("no rubric is named.", "Write rubric: violin."),
    "case.other_rubric": Message(
        'the evaluation is for the rubric "{text}", and was read with "{name}".', "Read it with its own rubric."
    ),
    "case.choice": Message('"{text}" is not one of the choices.', "Use {choices}. {hint}"),
    "case.text": Message("this must be text.", "Write it in quotes."),
    "case.too_long": Message("this is longer than {limit} letters.", "Shorten it."),
    "case.year": Message('"{text}" is not a year.', "Enter four digits, for example 1925."),
    "case.price_shape": Message("a price needs an amount and a currency.", "Write {{amount: 780, currency: USD}}."),
    "case.currency": Message('"{text}" is not a currency.', "Use its three letters, for example USD."),
    "case.two_currencies": Message("the two prices are in different currencies.", "Give both in one currency."),
}

AT_THE_KEY = frozenset({"case.unknown_key", "observation.unknown_check"})

_CURRENCY = re.compile(r"[A-Z]{3}")
Path = tuple[str | int, ...]
Choice = TypeVar("Choice", bound=str)
Wrong = tuple[Problem, ...]  # what is wrong with an answer


class Places(Protocol):
    """A parsed document: where the key or value at a path stands."""

    @property
    def data(self) -> object: ...

    def place(self, *path: str | int, key: bool = False) -> Place | None: ...


class _Reader:
    """Collects mistakes with their places while the parts are read."""

    def __init__(self, places: Places | None) -> None:
        self.places = places
        self.problems: list[Problem] = []
        self.hints = Hints()

    def place(self, path: Path, code: str) -> Place | None:
        """Where a mistake stands: at the key where the key itself is wrong, else at its value."""
        return self.places.place(*path, key=code in AT_THE_KEY) if self.places is not None else None

    def note(self, code: str, path: Path, **words: object) -> None:
        where = ".".join(in_one_line(part) for part in path)
        self.problems.append(problem(MESSAGES, code, where, self.place(path, code), **words))

    def add(self, found: Iterable[Problem], path: Path) -> None:
        """Problems that were found without a place, put at the path's place."""
        for one in found:
            place = one.place or self.place(path, one.code)
            self.problems.append(Problem(one.code, one.where, one.what, one.what_to_do, place))

    def mapping(self, raw: object, path: Path, keys: tuple[str, ...], example: str) -> Mapping[str, object]:
        """The mapping at a path, its unknown keys noted; empty where it is none."""
        if not isinstance(raw, Mapping):
            if raw is not None:
                self.note("case.shape", path, what=path[-1] if path else "the evaluation", example=example)
            return {}
        for key in raw:
            if key not in keys:
                hint = self.hints.near(str(key), keys)
                self.note("case.unknown_key", (*path, str(key)), key=in_one_line(key), hint=hint)
        return {key: raw[key] for key in keys if raw.get(key) is not None}

    def choice(self, raw: object, path: Path, choices: tuple[Choice, ...], default: Choice) -> Choice:
        if raw is None:
            return default
        for choice in choices:
            if raw == choice:
                return choice
        hint = self.hints.near(str(raw), choices)
        self.note("case.choice", path, text=in_one_line(raw), choices=" or ".join(choices), hint=hint)
        return default

    def text(self, raw: object, path: Path) -> str:
        if raw is None:
            return ""
        if isinstance(raw, bool) or not isinstance(raw, (str, int, float)):
            self.note("case.text", path)
            return ""
        if len(str(raw)) > MOST_TEXT:
            self.note("case.too_long", path, limit=MOST_TEXT)
        if strange := sign_problem(str(raw), ".".join(map(str, path))):
            self.add([strange], path)
        return str(raw)

    def money(self, raw: object, path: Path) -> Money | None:
        """A price above nothing, exactly as written."""
        if raw is None:
            return None
        if not isinstance(raw, Mapping):
            self.note("case.price_shape", path)
            return None
        given = self.mapping(raw, path, ("amount", "currency"), "{amount: 780, currency: USD}")
        if "amount" not in given:
            self.note("case.price_shape", path)
            return None
        amount, currency = given["amount"], given.get("currency", "USD")
        if not isinstance(currency, str) or not _CURRENCY.fullmatch(currency):
            self.note("case.currency", (*path, "currency"), text=in_one_line(currency))
            return None
        found = read_money(amount, currency, ".".join(map(str, (*path, "amount"))), above=True)
        if isinstance(found, Problem):
            self.add([found], (*path, "amount"))
            return None
        return found


def rubric_name_of(document: Places) -> str | Problem:
    """The name of the rubric that an evaluation file asks for."""
    data = document.data
    if not data:
        return problem(MESSAGES, "case.empty", "", document.place())
    if not isinstance(data, Mapping):
        return problem(MESSAGES, "case.shape", "", document.place(), what="the evaluation", example="rubric: violin")
    name = data.get("rubric")
    if not isinstance(name, str) or not name.strip():
        return problem(MESSAGES, "case.no_rubric", "rubric", document.place())
    return name.strip()


def read_case(rubric: Rubric, data: object, places: Places | None = None) -> tuple[Case | None, tuple[Problem, ...]]:
    """The case in the data of a file or of the API, and all mistakes in it; None when there are any."""
    reader = _Reader(places)
    if not data:
        reader.note("case.empty", ())
        return None, tuple(reader.problems)
    case, wrong = _read(reader, data, rubric)
    for check, problems in wrong.items():
        reader.add(problems, ("observations", check))
    return (None if reader.problems else case), by_place(reader.problems)


def read_kept(rubric: Rubric, data: object) -> tuple[Case | None, tuple[Problem, ...], Mapping[str, Wrong]]:
    """The case of what is kept as typed, with the answers that can be read; by check what is wrong with the others.

    The case is None where anything but answers cannot be read, and the problems say what. Each answer is parsed once.
    Of several answers to a check none counts where the first, which stands, cannot be read; of those beside it only
    the readable ones do.
    """
    reader = _Reader(None)
    case, wrong = _read(reader, data, rubric, several=True)
    return (None if reader.problems else case), by_place(reader.problems), wrong


def _read(reader: _Reader, data: object, rubric: Rubric, *, several: bool = False) -> tuple[Case, dict[str, Wrong]]:
    """The case, and what is wrong with answers by check; what is wrong elsewhere is noted."""
    given = reader.mapping(data, (), KEYS, "rubric: violin")
    _head(reader, given, rubric)
    seen_by = reader.choice(given.get("seen_by"), ("seen_by",), get_args(Channel), "in_person")
    asking = reader.money(given.get("asking"), ("asking",))
    ready_value = reader.money(given.get("ready_value"), ("ready_value",))
    if asking and ready_value and asking.currency != ready_value.currency:
        reader.note("case.two_currencies", ("ready_value",))
    instrument = _instrument(reader, given.get("instrument"), rubric)
    answers, gone = given.get("observations"), dict[str, str]()
    if isinstance(answers, Mapping):
        answers, gone = named_today(rubric, answers, instrument)
    observations, wrong = _observations(reader, answers, rubric, seen_by, several)
    case = Case(
        rubric=rubric.name,
        instrument=instrument,
        purpose=reader.choice(given.get("purpose"), ("purpose",), get_args(Purpose), "buying"),
        observations=observations,
        no_longer_asked=gone,
        asking=asking,
        ready_value=ready_value,
        seen_by=seen_by,
        looker=reader.choice(given.get("looker"), ("looker",), get_args(Looker), "student"),
        title=reader.text(given.get("title"), ("title",)),
    )
    return case, wrong


def _head(reader: _Reader, given: Mapping[str, object], rubric: Rubric) -> None:
    written = given.get("format", FORMAT)
    if isinstance(written, bool) or written not in (FORMAT, str(FORMAT)):
        reader.note("case.format", ("format",), text=in_one_line(written))
    name = given.get("rubric", rubric.name)
    if name != rubric.name:
        reader.note("case.other_rubric", ("rubric",), text=in_one_line(name), name=rubric.name)


def _instrument(reader: _Reader, raw: object, rubric: Rubric) -> Instrument:
    given = reader.mapping(raw, ("instrument",), INSTRUMENT_KEYS, "{size: 4/4, style: classical}")

    def path(key: str) -> Path:
        return ("instrument", key)

    size = given.get("size", rubric.default_size)
    year = _year(reader, given.get("year"), path("year"))
    strings = given.get("strings")
    age = given.get("age")
    return Instrument(
        size=reader.choice(str(size), path("size"), tuple(rubric.sizes) or (rubric.default_size,), rubric.default_size),
        style=reader.choice(given.get("style"), path("style"), get_args(Style), "classical"),
        tier=reader.choice(given.get("tier"), path("tier"), get_args(Tier), "student"),
        about=reader.text(given.get("about"), path("about")),
        year=year,
        age=age_of(year) if age is None else reader.choice(age, path("age"), get_args(Age), "up_to_40"),
        strings=None if strings is None else reader.choice(strings, path("strings"), get_args(StringType), "steel"),
    )


def _year(reader: _Reader, raw: object, path: Path) -> int | None:
    if raw is None or raw == "":
        return None
    text = str(raw).strip()
    if isinstance(raw, bool) or not (text.isascii() and text.isdigit() and EARLIEST_YEAR <= int(text) <= LATEST_YEAR):
        reader.note("case.year", path, text=in_one_line(raw))
        return None
    return int(text)


def age_of(year: int | None) -> Age | None:
    """The band of age for a year of making; None when the year is not known."""
    if year is None:
        return None
    years = AGE_COUNTED_FROM - year
    if years <= 40:
        return "up_to_40"
    return "40_to_100" if years <= 100 else "over_100"


def _observations(
    reader: _Reader, raw: object, rubric: Rubric, seen_by: Channel, several: bool
) -> tuple[Mapping[str, tuple[Observation, ...]], dict[str, Wrong]]:
    """Answers by check, in the rubric's order of checks, and what is wrong with others; `several`: each by itself."""
    if raw is None:
        return {}, {}
    if not isinstance(raw, Mapping):
        reader.note("case.shape", ("observations",), what="observations", example="purfling: inlaid")
        return {}, {}
    found: dict[str, tuple[Observation, ...]] = {}
    wrong: dict[str, Wrong] = {}
    for key, answer in raw.items():
        first, *others = answer if several and isinstance(answer, list) and answer else [answer]
        problems, seen = _sorted_out(read_observation(rubric, str(key), first, seen_by, reader.hints))
        if problems:
            wrong[str(key)] = problems
            continue
        for one in others:
            seen += _sorted_out(read_observation(rubric, str(key), one, seen_by, reader.hints))[1]
        if seen:
            found[str(key)] = seen
    return {check: found[check] for check in rubric.checks if check in found}, wrong


def _sorted_out(
    results: tuple[Observation, ...] | tuple[Problem, ...],
) -> tuple[tuple[Problem, ...], tuple[Observation, ...]]:
    problems = tuple(one for one in results if isinstance(one, Problem))
    return problems, tuple(one for one in results if isinstance(one, Observation))
