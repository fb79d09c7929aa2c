"""`dataclass` for the records that every command loads: frozen and slotted, made as cheaply as a class can be.

`dataclasses.dataclass` writes and compiles eight functions for each frozen class, which for two hundred classes costs a
command more than its answer. Here a class shares all but one of them with the others; its `__init__` waits for the
first record, and shares its compiled code with classes of as many fields. To type checkers it is the standard one, and
what it makes behaves as that does: `fields`, `replace`, `asdict`, `copy`, pickles, patterns, pydantic. Only
`__dataclass_params__` calls such a class not frozen, so that a class of one kind cannot be derived from one of the
other: that is told on loading.
"""

import dataclasses
import reprlib
from collections.abc import Callable, Sequence
from dataclasses import MISSING
from functools import cache, partial
from operator import attrgetter
from types import CodeType, FunctionType
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
    fields, every = dataclasses.fields(made), vars(made)["__dataclass_fields__"].values()
    if len(every) > len(fields) and any(isinstance(field.type, dataclasses.InitVar) for field in every):
        raise TypeError(f"{made.__qualname__}: a field that is not kept needs dataclasses.dataclass")
    plain = [field for field in fields if field.init and not field.kw_only]
    named = [field for field in fields if field.init and field.kw_only]
    silent = [field for field in fields if not field.init and _default(field)]
    known: dict[str, object] = {"_none": MISSING}
    counted = []
    for at, field in enumerate((*plain, *named, *silent)):
        known[f"_set{at}"] = getattr(made, field.name).__set__
        if field.default_factory is not MISSING:
            known[f"_of{at}"] = field.default_factory
            counted.append(at)
        elif not field.init:
            known[f"_of{at}"] = partial(_same, field.default)
    code = _code(len(plain), len(named), len(silent), tuple(counted), hasattr(made, "__post_init__"))
    code = code.replace(co_varnames=("self", *[field.name for field in (*plain, *named)]))
    found = FunctionType(code, known, "__init__", _defaults(made, plain))
    found.__kwdefaults__ = {field.name: one for field in named for one in _default(field)}
    found.__qualname__, found.__module__ = f"{made.__qualname__}.__init__", made.__module__
    return found


def _default(field: "dataclasses.Field[object]") -> tuple[object, ...]:
    """What a field is without an argument: nothing where it must be given, MISSING where a function makes it."""
    if field.default is not MISSING:
        return (field.default,)
    return (MISSING,) if field.default_factory is not MISSING else ()


def _defaults(made: type, plain: "Sequence[dataclasses.Field[object]]") -> tuple[object, ...]:
    found = [_default(field) for field in plain]
    given = next((at for at, one in enumerate(found) if one), len(found))
    if not all(found[given:]):
        raise TypeError(f"{made.__qualname__}: a field without a default stands behind one with a default")
    return tuple(one for (one,) in found[given:])


def _same(value: object) -> object:
    return value


@cache
def _code(plain: int, named: int, silent: int, counted: tuple[int, ...], last: bool) -> CodeType:
    """The code of an `__init__` of so many fields, by the names self, a0, a1 ...: fewer kinds of it than of classes.

    `counted`: the fields that a function makes where they are not given; the `silent` never are.
    """
    given = plain + named
    asked = ["self", *(f"a{at}" for at in range(given))]
    if named:
        asked.insert(plain + 1, "*")
    body = [
        f"_set{at}(self, {f'_of{at}() if a{at} is _none else a{at}' if at in counted else f'a{at}'})"
        for at in range(given)
    ]
    body += [f"_set{at}(self, _of{at}())" for at in range(given, given + silent)]
    body += ["self.__post_init__()"] if last else []
    scope: dict[str, FunctionType] = {}
    exec("\n    ".join([f"def __init__({', '.join(asked)}):", *(body or ["pass"])]), scope)
    return scope["__init__"].__code__


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
