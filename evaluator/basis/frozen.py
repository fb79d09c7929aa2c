"""`dataclass` for the records that every command loads: frozen and slotted, made as cheaply as a class can be.

`dataclasses.dataclass` writes and compiles eight functions for each frozen class, which for two hundred classes costs a
command more than its answer. Here a class shares all but one of them with the others, and its `__init__` is compiled
when the first record is made. To type checkers it is `dataclasses.dataclass` itself, and what it makes behaves as its
classes do: `fields`, `replace`, `asdict`, `copy`, pickles, patterns, pydantic. Only `__dataclass_params__` calls such a
class not frozen, so that a class of one kind cannot be derived from one of the other: that is told on loading.
"""

import dataclasses
import reprlib
from collections.abc import Callable
from functools import cache
from operator import attrgetter
from typing import TYPE_CHECKING, NoReturn

__all__ = ["dataclass"]

Values = Callable[[object], tuple[object, ...]]


def _made(cls: type, kw_only: bool) -> type:
    """The frozen, slotted dataclass of a class; what the class says itself stays."""
    undocumented = cls.__doc__ is None
    if undocumented:
        cls.__doc__ = "-"  # else a signature is worked out for it
    own = set(vars(cls))
    made: type = dataclasses.dataclass(init=False, repr=False, eq=False, slots=True, kw_only=kw_only)(cls)
    if undocumented:
        made.__doc__ = None
    for name, function in _SHARED.items():
        if name not in own:
            setattr(made, name, function)
    if vars(made)["__hash__"] is None:  # where a class has an `__eq__` of its own
        made.__hash__ = _hash  # type: ignore[assignment]
    if "__init__" not in own:
        _set_init(made)
    return made


def _set_init(made: type) -> None:
    """An `__init__` that makes the true one when it is first called, and gives way to it."""

    def first(self: object, /, *values: object, **named: object) -> None:
        true = _init_of(made)
        made.__init__ = true  # type: ignore[misc]
        true(self, *values, **named)

    made.__init__ = first  # type: ignore[misc]


def _init_of(made: type) -> Callable[..., None]:
    """The true `__init__`: every field into its slot, then `__post_init__` where there is one."""
    every = vars(made)["__dataclass_fields__"].values()
    if any(isinstance(field.type, dataclasses.InitVar) for field in every):
        raise TypeError(f"{made.__qualname__}: a field that is not kept needs dataclasses.dataclass")
    known: dict[str, object] = {"_none": dataclasses.MISSING}
    plain, named, body = ["self"], list[str](), list[str]()
    for field in dataclasses.fields(made):
        asked, value = _said_of(field, known)
        if field.init:
            (named if field.kw_only else plain).append(asked)
        if value:
            known[f"_set_{field.name}"] = getattr(made, field.name).__set__
            body.append(f"    _set_{field.name}(self, {value})")
    if hasattr(made, "__post_init__"):
        body.append("    self.__post_init__()")
    told = ", ".join([*plain, *(["*", *named] if named else [])])
    exec("\n".join([f"def __init__({told}):", *(body or ["    pass"])]), known)
    found: Callable[..., None] = known["__init__"]  # type: ignore[assignment]
    found.__qualname__, found.__module__ = f"{made.__qualname__}.__init__", made.__module__
    return found


def _said_of(field: "dataclasses.Field[object]", known: dict[str, object]) -> tuple[str, str]:
    """How `__init__` asks for a field and what it then keeps (nothing: ""), by names that are put into `known`."""
    name, default = field.name, f"_of_{field.name}"
    if field.default is not dataclasses.MISSING:
        known[default] = field.default
        return f"{name}={default}", name if field.init else default
    if field.default_factory is not dataclasses.MISSING:
        known[default] = field.default_factory
        return f"{name}=_none", f"{default}() if {name} is _none else {name}" if field.init else f"{default}()"
    return name, name if field.init else ""


@cache
def _names(kind: type) -> tuple[str, ...]:
    return tuple(field.name for field in dataclasses.fields(kind))


def _reading(names: tuple[str, ...]) -> Values:
    """What reads the fields of these names as a tuple, however few they are."""
    if len(names) > 1:
        return attrgetter(*names)
    return lambda record: tuple([getattr(record, name) for name in names])


@cache
def _compared(kind: type) -> Values:
    return _reading(tuple(field.name for field in dataclasses.fields(kind) if field.compare))


@cache
def _hashed(kind: type) -> Values:
    counts = (field for field in dataclasses.fields(kind) if (field.compare if field.hash is None else field.hash))
    return _reading(tuple(field.name for field in counts))


def _eq(self: object, other: object) -> object:
    kind: type = self.__class__
    values = _compared(kind)
    return values(self) == values(other) if other.__class__ is kind else NotImplemented


def _hash(self: object) -> int:
    kind: type = self.__class__
    return hash(_hashed(kind)(self))


@reprlib.recursive_repr()
def _repr(self: object) -> str:
    kind: type = self.__class__
    told = [f"{one.name}={getattr(self, one.name)!r}" for one in dataclasses.fields(kind) if one.repr]
    return f"{kind.__qualname__}({', '.join(told)})"


def _setattr(self: object, name: str, value: object) -> NoReturn:
    raise dataclasses.FrozenInstanceError(f"cannot assign to field {name!r}")


def _delattr(self: object, name: str) -> NoReturn:
    raise dataclasses.FrozenInstanceError(f"cannot delete field {name!r}")


def _getstate(self: object) -> list[object]:
    kind: type = self.__class__
    return [getattr(self, name) for name in _names(kind)]


def _setstate(self: object, state: list[object]) -> None:
    kind: type = self.__class__
    for name, value in zip(_names(kind), state, strict=True):
        object.__setattr__(self, name, value)


_SHARED = {
    "__eq__": _eq,
    "__hash__": _hash,
    "__repr__": _repr,
    "__setattr__": _setattr,
    "__delattr__": _delattr,
    "__getstate__": _getstate,
    "__setstate__": _setstate,
}

if TYPE_CHECKING:
    from dataclasses import dataclass
else:

    def dataclass(*, frozen=False, slots=False, kw_only=False, **more):
        """As `dataclasses.dataclass`; what is not both frozen and slotted, or asks for more, is made by that itself."""
        if frozen and slots and not more:
            return lambda cls: _made(cls, kw_only)
        return dataclasses.dataclass(frozen=frozen, slots=slots, kw_only=kw_only, **more)
