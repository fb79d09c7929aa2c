"""From files to a checked rubric or shop: everything that is wrong at once, each with its file, line and column.

A family file names the files that belong to it (`include`); all are read, validated, put together and cross-checked. An
overlay (`extends`) adds, changes or drops on top, and the rubric remembers whose opinion each check then is.
"""

import hashlib
import json
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any, cast

from pydantic import ValidationError

from ..basis.document import Document, parse_document
from ..basis.formula import Formula, parse_formula
from ..basis.message import Message, Messages, problem
from ..basis.problem import Place, Problem, by_place, did_you_mean
from .mistakes import problems_of
from .model import RubricFile, Written
from .overlay import changed
from .references import reference_problems
from .rubric import Rubric
from .shop import Shop

MESSAGES: Messages = {
    "load.unreadable": Message("cannot be read: {reason}.", "Look at the path."),
    "load.no_family": Message('there is no rubric "{name}".', "{hint}"),
    "load.include_nothing": Message('no file is called "{pattern}".', "Correct the path under include."),
    "load.not_family": Message("does not say which rubric it is.", "Begin with rubric:, family: and version:."),
    "load.double_id": Message('the {kind} "{id}" is already written at {first}.', "Give one of them another name."),
    "load.nothing_to_change": Message('there is no check or job "{id}" to {verb}.', "{hint}"),
}
# The lists of a rubric file, the key that names an entry, and what an entry is called.
LISTS: tuple[tuple[str, str, str], ...] = (
    ("parts", "part", "part"), ("causes", "cause", "cause"), ("cautions", "caution", "caution"),
    ("tools", "tool", "tool"), ("checks", "check", "check"), ("standards", "standard", "standard"),
    ("part_prices", "part", "part price"), ("shared_labour", "shared", "shared labour"), ("jobs", "job", "job"),
)  # fmt: skip
BUILT_IN = "built in"


@dataclass(slots=True)
class Sources:
    """What has been read so far: each list by id with its place, and every mistake."""

    entries: dict[str, dict[str, Any]] = field(default_factory=lambda: {name: {} for name, _, _ in LISTS})
    places: dict[tuple[str, str], tuple[Document, int]] = field(default_factory=dict)
    opinion_of: dict[str, str] = field(default_factory=dict)
    named: dict[str, str] = field(default_factory=dict)
    problems: list[Problem] = field(default_factory=list)

    def note(self, code: str, where: str = "", place: Place | None = None, **words: object) -> None:
        self.problems.append(problem(MESSAGES, code, where, place, **words))

    def place(self, kind: str, name: str, *path: str | int, key: bool = False) -> Place | None:
        """Where something of an entry stands."""
        if (kind, name) not in self.places:
            return None
        document, index = self.places[kind, name]
        return document.place(kind, index, *path, key=key)


def read_file(path: Path, shown: str, sources: Sources) -> Document | None:
    """The parsed document at a path; its mistakes go to `sources`."""
    try:
        content = path.read_bytes()
    except OSError as error:
        sources.note("load.unreadable", shown, reason=error.strerror or "no such file")
        return None
    document, problems = parse_document(content, shown)
    sources.problems += problems
    return document


def validated(document: Document, sources: Sources) -> RubricFile | None:
    try:
        return RubricFile.model_validate(document.data)
    except ValidationError as error:
        sources.problems += problems_of(error, document)
        return None


def take(written: RubricFile, document: Document, sources: Sources, whose: str, *, replace: bool = False) -> None:
    """Add a file's entries; a second entry of one id is a mistake, except in an overlay, which replaces."""
    sources.named |= written.sources
    for name, key, word in LISTS:
        for index, entry in enumerate(getattr(written, name)):
            identity = getattr(entry, key)
            if identity in sources.entries[name] and not replace:
                first = sources.place(name, identity)
                sources.note("load.double_id", "", document.place(name, index), kind=word, id=identity, first=first)
                continue
            sources.entries[name][identity] = entry
            sources.places[name, identity] = (document, index)
            if name == "checks":
                sources.opinion_of[identity] = whose


def families(root: Path) -> tuple[str, ...]:
    """The names of the rubrics in a folder."""
    return tuple(sorted(path.stem for path in (root / "families").glob("*.yaml")))


def load_rubric(root: Path, name: str, overlays: Sequence[Path] = ()) -> tuple[Rubric | None, tuple[Problem, ...]]:
    """The rubric `name` of the rubrics folder with overlays on it, or every mistake in its files."""
    sources = Sources()
    known = families(root)
    if name not in known:
        hint = did_you_mean(name, known) or f"There is {', '.join(known)}."
        return None, (problem(MESSAGES, "load.no_family", "", None, name=name, hint=hint),)
    shown = f"{root.name}/families/{name}.yaml"
    document = read_file(root / "families" / f"{name}.yaml", shown, sources)
    head = validated(document, sources) if document else None
    if document is None or head is None:
        return None, by_place(sources.problems)
    if head.rubric is None or head.family is None or head.version is None:
        sources.note("load.not_family", shown, Place(shown, 1, 1))
    take(head, document, sources, BUILT_IN)
    hashes = [_canonical(head)]
    for pattern_at, pattern in enumerate(head.include):
        paths = sorted(root.glob(pattern))
        if not paths:
            sources.note("load.include_nothing", "", document.place("include", pattern_at), pattern=pattern)
        for path in paths:
            inner = read_file(path, f"{root.name}/{path.relative_to(root)}", sources)
            written = validated(inner, sources) if inner else None
            if inner and written:
                take(written, inner, sources, BUILT_IN)
                hashes.append(_canonical(written))
    for overlay in overlays:
        hashes.append(_overlaid(overlay, sources))
    return _made(head, sources, hashes)


def _overlaid(path: Path, sources: Sources) -> str:
    """Lay an overlay over what was read; gives its text for the hash."""
    document = read_file(path, str(path), sources)
    written = validated(document, sources) if document else None
    if document is None or written is None:
        return ""
    whose = written.by or written.title or path.stem
    take(written, document, sources, whose, replace=True)
    for index, name in enumerate(written.drop):
        kind = _kind_of(name, sources)
        if kind is None:
            _no_such(name, "drop", document.place("drop", index), sources)
            continue
        del sources.entries[kind][name]
    for name, change in written.change.items():
        kind = _kind_of(name, sources)
        if kind is None:
            _no_such(name, "change", document.place("change", name, key=True), sources)
            continue
        entry, problems = changed(sources.entries[kind][name], change, document, name)
        sources.problems += problems
        if entry is not None:
            sources.entries[kind][name] = entry
            sources.opinion_of[name] = whose
    return _canonical(written)


def _kind_of(name: str, sources: Sources) -> str | None:
    return next((kind for kind in ("checks", "jobs", "standards") if name in sources.entries[kind]), None)


def _no_such(name: str, verb: str, place: Place, sources: Sources) -> None:
    hint = did_you_mean(name, [*sources.entries["checks"], *sources.entries["jobs"]])
    sources.note("load.nothing_to_change", "", place, id=name, verb=verb, hint=hint)


def _canonical(written: Written) -> str:
    return json.dumps(written.model_dump(mode="json", by_alias=True), sort_keys=True, ensure_ascii=False)


def _of_family(entries: Mapping[str, Any], family: str) -> dict[str, Any]:
    return {name: one for name, one in entries.items() if not one.families or family in one.families}


def _formulas(checks: Mapping[str, Any], key: str, sources: Sources) -> dict[str, Formula]:
    found: dict[str, Formula] = {}
    for name, check in checks.items():
        text = getattr(check, key)
        if text is None:
            continue
        formula = parse_formula(text)
        if isinstance(formula, Problem):
            place = sources.place("checks", name, key)
            sources.problems.append(Problem(formula.code, f'check "{name}"', formula.what, formula.what_to_do, place))
            continue
        found[name] = formula
    return found


def _made(head: RubricFile, sources: Sources, hashes: Iterable[str]) -> tuple[Rubric | None, tuple[Problem, ...]]:
    """The rubric of the family from all that was read, when nothing is wrong."""
    if head.family is None or head.rubric is None or head.version is None:
        return None, by_place(sources.problems)
    entries = sources.entries
    checks, jobs = _of_family(entries["checks"], head.family), _of_family(entries["jobs"], head.family)
    formulas, relevant = _formulas(checks, "formula", sources), _formulas(checks, "relevant_if", sources)
    here = {**entries, "checks": checks, "jobs": jobs}
    sources.problems += reference_problems(here, entries, formulas, relevant, sources.place)
    if sources.problems:
        return None, by_place(sources.problems)
    rubric = Rubric(
        name=head.rubric,
        version=head.version,
        title=head.title or head.rubric,
        family=head.family,
        sizes=head.sizes,
        default_size=head.default_size or (head.sizes[0] if head.sizes else ""),
        hash=hashlib.sha256("\n".join(hashes).encode()).hexdigest(),
        parts=entries["parts"],
        checks=_only_known_jobs(checks, jobs),
        standards=entries["standards"],
        tools=entries["tools"],
        causes=entries["causes"],
        cautions=entries["cautions"],
        sources=sources.named,
        jobs=jobs,
        shared_labour=entries["shared_labour"],
        part_prices=entries["part_prices"],
        domain_shares=head.domain_shares,
        formulas=formulas,
        relevant=relevant,
        examples=head.examples,
        opinion_of={name: whose for name, whose in sources.opinion_of.items() if name in checks},
    )
    return rubric, ()


def _only_known_jobs(checks: Mapping[str, Any], jobs: Mapping[str, Any]) -> dict[str, Any]:
    """Checks whose cures name only jobs of this family: a shared check may also name another family's job."""
    kept = {}
    for name, check in checks.items():
        outcomes = {
            key: outcome
            if all(job in jobs for job in outcome.cured_by)
            else outcome.model_copy(update={"cured_by": tuple(job for job in outcome.cured_by if job in jobs)})
            for key, outcome in check.outcomes.items()
        }
        kept[name] = (
            check
            if all(outcomes[k] is check.outcomes[k] for k in outcomes)
            else check.model_copy(update={"outcomes": outcomes})
        )
    return kept


def load_shop(path: Path) -> tuple[Shop | None, tuple[Problem, ...]]:
    """The shop file at a path, or every mistake in it."""
    sources = Sources()
    document = read_file(path, str(path), sources)
    if document is None:
        return None, by_place(sources.problems)
    try:
        return Shop.model_validate(cast(Any, document.data)), ()
    except ValidationError as error:
        return None, by_place(problems_of(error, document, Shop))
