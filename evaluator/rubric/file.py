"""A whole file of a rubric: which lists and settings it may hold, each of them optional."""

from typing import Annotated

from pydantic import BeforeValidator

from .files.renamed import Renamed
from .making import Band, MakingClass, SignGroup
from .waiting import Safety, Wait
from .written.checks import Check, Likeness
from .written.judged import Judged
from .written.kinds import Domain, Family, Id, NotNegative, Text, Tier, Written
from .written.surroundings import Cause, Caution, Part, RubricExample, StandardTable, Tool
from .written.work import Job, PartPrice, SharedLabour


def _one_or_several(value: object) -> object:
    """A single name is a list of one."""
    return (value,) if isinstance(value, str) else value


class RubricFile(Written):
    """Any file under rubrics/ but shop files: each key is optional, so a file may hold one subject only."""

    rubric: Id | None = None
    version: str | None = None
    title: Text | None = None
    by: Text | None = None
    family: Family | None = None
    extends: Annotated[tuple[str, ...], BeforeValidator(_one_or_several)] = ()
    include: tuple[str, ...] = ()
    sizes: tuple[str, ...] = ()
    default_size: str | None = None
    domain_shares: dict[Tier, dict[Domain, NotNegative]] = {}
    parts: tuple[Part, ...] = ()
    safety: Safety | None = None
    waits: tuple[Wait, ...] = ()
    renamed: tuple[Renamed, ...] = ()
    causes: tuple[Cause, ...] = ()
    cautions: tuple[Caution, ...] = ()
    sources: dict[str, Text] = {}
    tools: tuple[Tool, ...] = ()
    checks: tuple[Check, ...] = ()
    standards: tuple[StandardTable, ...] = ()
    part_prices: tuple[PartPrice, ...] = ()
    shared_labour: tuple[SharedLabour, ...] = ()
    jobs: tuple[Job, ...] = ()
    classes: tuple[MakingClass, ...] = ()
    sign_groups: tuple[SignGroup, ...] = ()
    bands: tuple[Band, ...] = ()
    likenesses: tuple[Likeness, ...] = ()
    judged: tuple[Judged, ...] = ()
    drop: tuple[Id, ...] = ()
    change: dict[Id, dict[str, object]] = {}
    examples: tuple[RubricExample, ...] = ()
