"""A record made cheaply behaves as one of the standard library: every law is asked of both."""

import copy
import dataclasses
import pickle
from collections.abc import Callable, Mapping
from typing import Any, ClassVar

import numpy as np
import pytest
from pydantic import ConfigDict, TypeAdapter, ValidationError

from evaluator.basis import frozen

Maker = Callable[..., Callable[[type], Any]]


@frozen.dataclass(frozen=True, slots=True)
class Light:
    """A record of every kind of field."""

    __pydantic_config__: ClassVar[ConfigDict] = ConfigDict(extra="forbid", strict=True)
    name: str
    size: float = 1.5
    more: Mapping[str, int] = dataclasses.field(default_factory=dict, hash=False)
    told: str = dataclasses.field(default="", compare=False)
    count: int = dataclasses.field(default=3, init=False)


@frozen.dataclass(frozen=True, slots=True, kw_only=True)
class LightBelow(Light):
    extra: int
    late: int = 0


@dataclasses.dataclass(frozen=True, slots=True)
class Heavy:
    """A record of every kind of field."""

    __pydantic_config__: ClassVar[ConfigDict] = ConfigDict(extra="forbid", strict=True)
    name: str
    size: float = 1.5
    more: Mapping[str, int] = dataclasses.field(default_factory=dict, hash=False)
    told: str = dataclasses.field(default="", compare=False)
    count: int = dataclasses.field(default=3, init=False)


@dataclasses.dataclass(frozen=True, slots=True, kw_only=True)
class HeavyBelow(Heavy):
    extra: int
    late: int = 0


both = pytest.mark.parametrize(("kind", "below"), [(Light, LightBelow), (Heavy, HeavyBelow)], ids=["light", "heavy"])
makers = pytest.mark.parametrize("maker", [frozen.dataclass, dataclasses.dataclass], ids=["light", "heavy"])


@both
def test_equal_by_what_is_compared_and_by_its_class(kind: type[Light], below: type[LightBelow]) -> None:
    assert kind("a") == kind("a", told="otherwise")
    assert kind("a") != kind("b")
    assert kind("a", more={"x": 1}) != kind("a")
    assert kind("a") != below("a", extra=1)
    assert kind("a") != "a"
    assert hash(kind("a", more={"x": 1})) == hash(kind("a", told="x")) == hash(("a", 1.5, 3))
    assert kind("a").more is not kind("a").more


@both
def test_frozen_and_slotted(kind: type[Light], below: type[LightBelow]) -> None:
    for record in (kind("a"), below("a", extra=1)):
        with pytest.raises(dataclasses.FrozenInstanceError, match="cannot assign to field 'name'"):
            record.name = "b"
        with pytest.raises((dataclasses.FrozenInstanceError, TypeError)):  # the library stumbles over this in 3.11
            setattr(record, "else", 1)
        with pytest.raises(dataclasses.FrozenInstanceError, match="cannot delete field 'name'"):
            del record.name
        assert not hasattr(record, "__dict__")


@both
def test_copied_changed_and_taken_apart(kind: type[Light], below: type[LightBelow]) -> None:
    for record in (kind("a", more={"x": 1}), below("a", extra=1, late=2)):
        for same in (copy.copy(record), copy.deepcopy(record), pickle.loads(pickle.dumps(record))):
            assert (same, type(same)) == (record, type(record))
        changed = dataclasses.replace(record, name="b")
        assert dataclasses.astuple(changed) == ("b", *dataclasses.astuple(record)[1:])
        assert list(dataclasses.asdict(record)) == [field.name for field in dataclasses.fields(record)]
    with pytest.raises(ValueError, match="count"):
        dataclasses.replace(kind("a"), count=4)
    match kind("a", 2.0):
        case Heavy(name, size) | Light(name, size):
            assert (name, size) == ("a", 2.0)


@both
def test_read_and_written_as_strictly(kind: type[Light], below: type[LightBelow]) -> None:
    for one, text in ((kind, '{"name":"a"}'), (below, '{"name":"a","extra":1}')):
        adapter = TypeAdapter(one)
        read = adapter.validate_json(text)
        assert read == (kind("a") if one is kind else below("a", extra=1))
        assert adapter.validate_json(adapter.dump_json(read).replace(b',"count":3', b"")) == read
        for wrong in ('{"name":1}', "{}", '{"name":"a","other":1}'):
            with pytest.raises(ValidationError):
                adapter.validate_json(wrong)


def test_told_and_described_as_the_standard_one() -> None:
    assert repr(Light("a")) == repr(Heavy("a")).replace("Heavy", "Light")
    assert repr(LightBelow("a", extra=1)) == repr(HeavyBelow("a", extra=1)).replace("Heavy", "Light")
    for light, heavy in ((Light, Heavy), (LightBelow, HeavyBelow)):
        schemas = [TypeAdapter(one).json_schema() for one in (light, heavy)]
        assert str(schemas[0]) == str(schemas[1]).replace("Heavy", "Light")
        assert light.__match_args__ == heavy.__match_args__


@both
@pytest.mark.parametrize("first", [True, False], ids=["first", "later"])
def test_wrong_arguments_name_the_class(kind: type[Light], below: type[LightBelow], first: bool) -> None:
    if not first:
        kind("a")
    with pytest.raises(
        TypeError, match=rf"^{kind.__name__}.__init__\(\) missing 1 required positional argument: 'name'"
    ):
        kind()
    with pytest.raises(TypeError, match=rf"^{kind.__name__}.__init__\(\) got an unexpected keyword argument 'count'"):
        kind("a", count=1)
    with pytest.raises(TypeError, match=rf"^{below.__name__}.__init__\(\) missing 1 required keyword-only argument"):
        below("a")


@makers
def test_what_the_class_says_itself_stays(maker: Maker) -> None:
    class Own:
        low: float
        high: float = 2.0

        def __post_init__(self) -> None:
            if self.low > self.high:
                raise ValueError("in order")

        def __hash__(self) -> int:
            return 7

        def __repr__(self) -> str:
            return "own"

    class Alike:
        name: str
        __hash__ = None  # as Python itself puts it beside an `__eq__`

        def __eq__(self, other: object) -> bool:
            return isinstance(other, type(self))

    class Nothing:
        pass

    own, alike, nothing = (maker(frozen=True, slots=True)(one) for one in (Own, Alike, Nothing))
    with pytest.raises(ValueError, match="in order"):
        own(3.0)
    assert (hash(own(1.0)), repr(own(1.0)), own(1.0) == own(1.0)) == (7, "own", True)
    assert alike("a") == alike("b")
    assert hash(alike("a")) == hash(("a",))
    assert nothing() == nothing()
    assert hash(nothing()) == hash(())


@makers
def test_one_field_is_compared_as_in_a_tuple(maker: Maker) -> None:
    class One:
        values: Any

    one = maker(frozen=True, slots=True)(One)
    drawn = np.zeros(3)
    assert one(drawn) == one(drawn)


def test_other_records_are_made_by_the_standard_library() -> None:
    class Open:
        name: str

    class Ordered:
        name: str

    opened = frozen.dataclass(slots=True)(Open)("a")
    opened.name = "b"
    ordered = frozen.dataclass(frozen=True, slots=True, order=True)(Ordered)
    assert ordered("a") < ordered("b")


def test_the_two_kinds_do_not_mix() -> None:
    for base, maker in ((Light, dataclasses.dataclass), (Heavy, frozen.dataclass)):
        with pytest.raises(TypeError, match="cannot inherit"):
            maker(frozen=True, slots=True)(type("Mixed", (base,), {}))


def test_a_field_without_a_default_stands_behind_none_with_one() -> None:
    class Crossed:
        low: float = 1.0
        high: float

    with pytest.raises(TypeError, match="default"):
        frozen.dataclass(frozen=True, slots=True)(Crossed)(high=2.0)


def test_classes_of_as_many_fields_keep_their_own_names() -> None:
    class One:
        low: float
        high: float = 2.0

    class Other:
        name: str
        told: str = ""

    one, other = (frozen.dataclass(frozen=True, slots=True)(kind) for kind in (One, Other))
    assert dataclasses.asdict(one(low=1.0)) == {"low": 1.0, "high": 2.0}
    assert dataclasses.asdict(other("a", told="b")) == {"name": "a", "told": "b"}
    with pytest.raises(TypeError, match="unexpected keyword argument 'low'"):
        other("a", low=1.0)


def test_a_field_that_is_not_kept_is_refused() -> None:
    class Brief:
        name: dataclasses.InitVar[str]

    with pytest.raises(TypeError, match="not kept"):
        frozen.dataclass(frozen=True, slots=True)(Brief)("a")
