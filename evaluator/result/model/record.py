"""What every record of a result is: frozen, named by keyword, strict about its fields, and the same in JSON."""

from dataclasses import dataclass
from typing import ClassVar

from pydantic import ConfigDict


@dataclass(frozen=True, slots=True)
class Record:
    """The base of all. A field that older kept results are without has the value that says so."""

    __pydantic_config__: ClassVar[ConfigDict] = ConfigDict(extra="forbid", strict=True)
