"""What every record of a result is: frozen, strict about its fields, and the same in JSON by its own names."""

from typing import ClassVar

from pydantic import ConfigDict, Field

from .frozen import dataclass


def _nothing(value: object) -> bool:
    return not value


SPARED = Field(exclude_if=_nothing)  # a field that the JSON is without where it holds nothing


@dataclass(frozen=True, slots=True)
class Record:
    """The base of all. A field that older kept results are without has the value that says so."""

    __pydantic_config__: ClassVar[ConfigDict] = ConfigDict(extra="forbid", strict=True)
