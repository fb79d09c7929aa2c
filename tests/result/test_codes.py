"""Facts and records of the core: a fact is told by its own code, and what a record may leave out is nothing at all."""

from collections.abc import Iterator
from dataclasses import MISSING, fields, is_dataclass
from importlib import import_module
from pkgutil import walk_packages
from typing import Any, Literal, get_args, get_origin, get_type_hints

import pytest

from evaluator.basis.record import SPARED, Record
from tests.result.test_messages import CORE


def records() -> Iterator[type[Record]]:
    for core in CORE:
        package = import_module(f"evaluator.{core}")
        for found in walk_packages(package.__path__, f"{package.__name__}."):
            for one in vars(import_module(found.name)).values():
                if isinstance(one, type) and issubclass(one, Record) and is_dataclass(one):
                    yield one


RECORDS = {f"{one.__module__}.{one.__name__}": one for one in records()}


def hints(record: type[Record]) -> dict[str, Any]:
    return get_type_hints(record, include_extras=True)


CODED = {
    name: get_args(hints(one)["code"])
    for name, one in RECORDS.items()
    if get_origin(hints(one).get("code")) is Literal and len(get_args(hints(one)["code"])) == 1
}


def test_every_fact_of_one_code_has_it_from_the_start_and_no_other_has_it() -> None:
    assert len(CODED) > 20
    for name, (code,) in CODED.items():
        (found,) = (field.default for field in fields(RECORDS[name]) if field.name == "code")  # type: ignore[arg-type]
        assert found == code, name
    homes = [(name.rsplit(".", 1)[0], code) for name, (code,) in CODED.items()]
    assert len(homes) == len(set(homes))


@pytest.mark.parametrize("name", RECORDS)
def test_what_a_record_leaves_out_is_nothing(name: str) -> None:
    """So a kept result without it reads as it was."""
    record, found = RECORDS[name], hints(RECORDS[name])
    for field in fields(record):  # type: ignore[arg-type]
        if SPARED in getattr(found[field.name], "__metadata__", ()):
            default = field.default if field.default is not MISSING else field.default_factory()  # type: ignore[misc]
            assert not default, field.name
