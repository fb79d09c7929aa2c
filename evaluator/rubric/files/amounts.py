"""Prices, shares and hours of a file as a person may write them, brought to plain numbers before the models look.

`rates: 68`, `rates: {set_up: "68,50 €"}`, `margin: 40 %` and `hours: 1:15` all hold; what can be two amounts is asked
back at its place. A plain number stays as it is: YAML gives it a decimal point, and a model its bounds.
"""

from collections.abc import Callable, Iterable, Mapping
from typing import get_args

from ...basis.document import Data, Document
from ...basis.problem import Problem
from ...basis.record import as_object
from ...basis.spots import WrittenNumber
from ...basis.typed.hours import read_hours
from ...basis.typed.money import read_money
from ...basis.typed.numbers import read_share
from ..written.kinds import Skill

Step = str | int
Path = tuple[Step, ...]
Read = Callable[[object], float | Problem]

THREE = ("low", "likely", "high")
MOST_HOURS = 10_000.0  # of playing, between two services

# Where what stands in a shop file; * is any key or any place in a list.
PRICES: tuple[Path, ...] = (
    ("minimum_charge",),
    ("over_agreed", "amount"),
    ("deposits", "*", "from_total"),
    ("buying", "bench_cost_per_hour"),
    ("keeping", "rehair"),
    *(("keeping", name, "*") for name in ("string_set", "light_service", "full_service", "reserve", "sundries")),
    ("guide", "unseen", "*", "*"),
)
THREE_PRICES: tuple[Path, ...] = (
    ("rates", "*"),
    ("job_prices", "*"),
    ("part_prices", "*"),
    ("price_guide", "*", "*", "*", "price"),
    ("guide", "prices", "*", "*"),
)
SHARES: tuple[Path, ...] = (
    ("rush_share",),
    ("labour_correlation",),
    ("private_share_of_ready_value",),
    ("tax", "labour"),
    ("tax", "parts"),
    ("over_agreed", "share"),
    ("deposits", "*", "share"),
    ("keeping", "insurance_share"),
    *(
        ("buying", name)
        for name in (
            "sale_share_of_ticket", "margin", "holding", "parts_cost_share", "share_of_new_margin", "commission",
            "chance_of_sale",
        )
    ),
)  # fmt: skip
HOURS: tuple[Path, ...] = (("service_every_hours",),)
# And in a rubric or an overlay.
THREE_HOURS: tuple[Path, ...] = (("jobs", "*", "hours"), ("shared_labour", "*", "hours"), ("change", "*", "hours"))


def shop_read(document: Document, currency: str) -> tuple[Data, list[Problem]]:
    """The data of a shop file with its typed figures as numbers, and what cannot be read, at its place."""
    data = dict(document.data)
    rates = data.get("rates")
    if isinstance(rates, str | int | float) and not isinstance(rates, bool):
        data["rates"] = dict.fromkeys(get_args(Skill), rates)
    reader = _Reader(document)

    def price(value: object) -> float | Problem:
        found = read_money(value, currency, least=None)
        return found if isinstance(found, Problem) else float(found.amount)

    for paths, read, three in (
        (PRICES, price, False),
        (THREE_PRICES, price, True),
        (SHARES, read_share, False),
        (HOURS, _hours, False),
    ):
        for path in paths:
            data = reader.read(data, path, read, three)
    return data, reader.problems


def in_other_money(data: Data, rate: float) -> Data:
    """The figures of a shop that are money times a rate of exchange, to the cent."""
    for path in PRICES:
        data = {**as_object(_times(data, path, rate))}
    for path in THREE_PRICES:
        for point in THREE:
            data = {**as_object(_times(data, (*path, point), rate))}
    return data


def _times(data: object, path: Path, rate: float) -> object:
    if not path:
        return round(data * rate, 2) if isinstance(data, int | float) and not isinstance(data, bool) else data
    step, rest = path[0], path[1:]
    if isinstance(data, Mapping):
        keys = [key for key in data if step in ("*", key)]
        return {**data, **{key: _times(data[key], rest, rate) for key in keys}}
    return [_times(one, rest, rate) for one in data] if isinstance(data, list) and step == "*" else data


def hours_read(document: Document) -> tuple[Data, list[Problem]]:
    """The data of a rubric file with the hours of jobs as numbers, and what cannot be read."""
    reader, data = _Reader(document), document.data
    for path in THREE_HOURS:
        data = reader.read(data, path, _hours, True)
    return data, reader.problems


def _hours(value: object) -> float | Problem:
    return read_hours(value, most=MOST_HOURS)


class _Reader:
    """Walks to the figures of one file; what cannot be read is left out of the data and told."""

    def __init__(self, document: Document) -> None:
        self.document = document
        self.problems: list[Problem] = []

    def read(self, data: Data, path: Path, read: Read, three: bool) -> Data:
        """The data of the file with the figures at a path read."""
        found = self.changed(data, path, read, three)
        assert isinstance(found, dict), "a mapping stays one"
        return found

    def changed(self, data: object, path: Path, read: Read, three: bool, at: Path = ()) -> object:
        """The data with the figures at a path read; nothing of it is copied where there is nothing to read."""
        if not path:
            return self.three(data, read, at) if three else self.one(data, read, at)
        step, rest = path[0], path[1:]
        here: dict[str | int, object] = {}
        if isinstance(data, Mapping):
            keys: Iterable[str | int] = data if step == "*" else [step]
            here = {key: data[key] for key in keys if key in data}
        elif isinstance(data, list) and step == "*":
            here |= enumerate(data)
        new = {key: self.changed(one, rest, read, three, (*at, key)) for key, one in here.items()}
        if all(new[key] is here[key] for key in here):
            return data
        if isinstance(data, list):
            return [new.get(place, value) for place, value in enumerate(data)]
        return {**data, **new} if isinstance(data, dict) else data

    def three(self, value: object, read: Read, at: Path) -> object:
        """Low, likely and high; one figure stands for all three."""
        if isinstance(value, Mapping):
            before = len(self.problems)
            read_in = {key: self.one(one, read, (*at, key)) for key, one in value.items() if key in THREE}
            if len(self.problems) > before:  # told; zeros are in order
                return {**value, **dict.fromkeys(THREE, 0.0)}
            return {**value, **read_in} if any(read_in[key] is not value[key] for key in read_in) else value
        if isinstance(value, str | int | float) and not isinstance(value, bool):
            figure = self.one(value, read, at)
            return dict.fromkeys(THREE, figure)
        return value

    def one(self, value: object, read: Read, at: Path) -> object:
        """A text as the number that it means; where it is none, that is told and nothing stands in its way."""
        if not isinstance(value, str | WrittenNumber):
            return value
        found = read(value)
        if not isinstance(found, Problem):
            return found
        if isinstance(value, WrittenNumber) and not found.code.endswith("two_readings"):
            return value  # a model says what is wrong with a number
        where = ".".join(map(str, at))
        self.problems.append(Problem(found.code, where, found.what, found.what_to_do, self.document.place(*at)))
        return 0.0
