"""From files to a checked rubric or shop: everything that is wrong at once, each with its file, line and column.

A family file names the files that belong to it (`include`); all are read, put together and cross-checked, and overlays
are laid over them. `read_rubric` goes as far as it can with what is sound, so that `sense` can look at the rest too;
`load_rubric` gives a rubric only when nothing is wrong.
"""

import hashlib
import json
from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import Protocol, TypeVar

from ...basis.document import Document
from ...basis.formulas.formula import Formula, parse_formula
from ...basis.frozen import dataclass
from ...basis.problem import Message, Messages, Place, Problem, by_place, did_you_mean, problem
from ..file import RubricFile
from ..making import sign_tables
from ..rubric import Rubric
from ..written.checks import Check
from ..written.surroundings import FIGURES
from .overlay import MESSAGES as OVERLAY_MESSAGES
from .overlay import change, drop, lay_over, merged
from .references import MESSAGES as REFERENCE_MESSAGES
from .references import reference_problems
from .renamed import todays_names
from .sources import Sources, read_file, read_written, take
from .strangers import without_strangers
from .waits import formula_today

MESSAGES: Messages = {
    "rubric.not_judged": Message(
        "nothing says {names}.", "Write it under judged, or leave out all of them: those of the program then stand."
    ),
    "rubric.no_family": Message('there is no rubric "{name}".', "{hint}"),
    "rubric.include_nothing": Message('no file is called "{pattern}".', "Correct the path; it starts in {root}/."),
    "rubric.include_outside": Message('"{pattern}" leads out of the rubrics folder.', "Keep included files inside it."),
    "rubric.head_missing": Message("the family file does not say its {key}.", "Write {key}: at the top of the file."),
}
JUDGING = "judging.yaml"
MOST_NAMED = 3
HEAD_KEYS = ("rubric", "family", "version", "title", "sizes")


@dataclass(frozen=True, slots=True)
class Reading:
    """All that could be read. `rubric` is the sound part, None without a family file; `sources` knows the places."""

    rubric: Rubric | None
    sources: Sources

    @property
    def problems(self) -> tuple[Problem, ...]:
        return by_place(self.sources.problems)


def family_names(root: Path) -> tuple[str, ...]:
    """The names of the rubrics in a rubrics folder."""
    return tuple(sorted(path.stem for path in (root / "families").glob("*.yaml")))


def load_rubric(root: Path, name: str, overlays: Sequence[Path] = ()) -> tuple[Rubric | None, tuple[Problem, ...]]:
    """The rubric `name` of the rubrics folder with overlays on it, or every mistake in its files."""
    found = read_rubric(root, name, overlays)
    return (None, found.problems) if found.problems else (found.rubric, ())


def read_rubric(root: Path, name: str, overlays: Sequence[Path] = ()) -> Reading:
    """The rubric `name` as far as it is sound, and everything that is wrong with it."""
    sources = Sources()
    known = family_names(root)
    if name not in known:
        hint = did_you_mean(name, known) or (f"There is {', '.join(known)}." if known else "There is none here.")
        sources.problems.append(problem(MESSAGES, "rubric.no_family", "", Place(str(root)), name=name, hint=hint))
        return Reading(None, sources)
    return _read(root, root / "families" / f"{name}.yaml", overlays, known, sources)


def read_family_file(path: Path, built_in: Path) -> Reading:
    """A rubric that lies anywhere; what it includes is looked for in its own folder, but figures of judgement that it
    does not have are those of the program's own folder.
    """
    return _read(path.parent, path, (), (path.stem,), Sources(), built_in)


def _read(
    root: Path,
    path: Path,
    overlays: Sequence[Path],
    known: Sequence[str],
    sources: Sources,
    judging: Path | None = None,
) -> Reading:
    document = read_file(path, f"{root.name}/{path.relative_to(root).as_posix()}", sources)
    if document is None:
        return Reading(None, sources)
    head, positions = read_written(document, sources)
    take(head, positions, document, sources)
    _read_included(root, head, document, sources)
    _read_judging(judging or root, document, sources)
    drop(head, document, sources)
    change(head, document, sources, None)
    for overlay in overlays:
        head = _overlaid(overlay, head, known, sources)
    return Reading(_rubric(head, document, sources), sources)


def _read_included(root: Path, head: RubricFile, document: Document, sources: Sources) -> None:
    seen: set[Path] = set()
    for at, pattern in enumerate(head.include):
        place = document.place("include", at)
        if ".." in Path(pattern).parts or Path(pattern).is_absolute():
            sources.note(MESSAGES, "rubric.include_outside", "", place, pattern=pattern)
            continue
        paths = _called(pattern, root)
        if not paths:
            sources.note(MESSAGES, "rubric.include_nothing", "", place, pattern=pattern, root=root.name)
            sources.unreadable = True
        for path in paths:
            inner = None
            if path not in seen:
                inner = read_file(path, f"{root.name}/{path.relative_to(root).as_posix()}", sources)
            seen.add(path)
            if inner:
                written, positions = read_written(inner, sources)
                take(written, positions, inner, sources)


def _called(pattern: str, root: Path) -> list[Path]:
    """The files of a folder that a pattern names; none where it is empty, or longer than a disk takes."""
    try:
        return sorted(path for path in root.glob(pattern) if path.is_file())
    except (OSError, ValueError):
        return []


def _read_judging(folder: Path, document: Document, sources: Sources) -> None:
    """The figures of judgement, from the one file of a folder where the family includes none of its own."""
    path = folder / JUDGING
    if not sources.names("judged") and path.is_file():
        inner = read_file(path, f"{folder.name}/{JUDGING}", sources)
        if inner:
            written, positions = read_written(inner, sources)
            take(written, positions, inner, sources)


def _note_judged(document: Document, sources: Sources) -> None:
    """Which figures of judgement are missing, or were dropped: one may be changed, and none can be done without."""
    missing = [name for name in FIGURES if not sources.is_there("judged", name)]
    dropped = any(("judged", name) in sources.dropped for name in missing)
    if dropped or 0 < len(missing) < len(FIGURES):
        sources.note(MESSAGES, "rubric.not_judged", "", document.place(), names=_first(missing))


def _first(names: Sequence[str]) -> str:
    """The first of several names, and how many more there are."""
    more = len(names) - MOST_NAMED
    return ", ".join(names[:MOST_NAMED]) + (f" and {more} more" if more > 0 else "")


def _overlaid(path: Path, head: RubricFile, known: Sequence[str], sources: Sources) -> RubricFile:
    """Lay one overlay over what was read; gives the head with the overlay's sizes and shares."""
    document = read_file(path, str(path), sources)
    if document is None:
        return head
    written, positions = read_written(document, sources, todays_names(sources.entries["jobs"].values()))
    if not written.extends:
        sources.note(OVERLAY_MESSAGES, "overlay.extends_nothing", "", document.place())
        return head
    for name in written.extends:
        if name not in known:
            hint = did_you_mean(name, known) or f"There is {', '.join(known)}."
            sources.note(
                OVERLAY_MESSAGES, "overlay.extends_unknown", "", document.place("extends"), name=name, hint=hint
            )
    if head.rubric not in written.extends:
        del sources.documents[document.name]  # an overlay for another family: nothing of it counts here
        return head
    lay_over(written, positions, document, sources, written.by or written.title or path.stem)
    told: dict[str, object] = {
        key: value for key in ("sizes", "default_size", "safety") if (value := getattr(written, key))
    }
    told["domain_shares"] = merged(head.domain_shares, written.domain_shares)
    if written.version:
        told["version"] = f"{head.version} + {written.title or path.stem} {written.version}"
    return head.model_copy(update=told)


def _rubric(head: RubricFile, document: Document, sources: Sources) -> Rubric | None:
    """The rubric from all that is sound; what is missing or leads nowhere is noted."""
    _note_head(head, document, sources)
    _note_judged(document, sources)
    if head.rubric is None or head.family is None:
        return None
    entries = sources.entries
    checks, jobs = _of_family(entries["checks"], head.family), _of_family(entries["jobs"], head.family)
    classes, groups = entries["classes"], _of_family(entries["sign_groups"], head.family)
    default_size = head.default_size or (head.sizes[0] if head.sizes else "")
    rubric = Rubric(
        name=head.rubric,
        version=head.version or "",
        title=head.title or head.rubric,
        family=head.family,
        sizes=head.sizes,
        default_size=default_size,
        hash=_hash(sources),
        parts=entries["parts"],
        safety=head.safety,
        waits=entries["waits"],
        renamed=entries["renamed"],
        checks=checks,
        standards=entries["standards"],
        tools=entries["tools"],
        causes=entries["causes"],
        cautions=entries["cautions"],
        sources=sources.named,
        jobs=jobs,
        shared_labour=entries["shared_labour"],
        part_prices=entries["part_prices"],
        domain_shares=head.domain_shares,
        formulas=_formulas(checks, "formula", sources),
        relevant=_formulas(checks, "relevant_if", sources),
        examples=tuple(entries["examples"].values()),
        opinion_of=sources.opinion_of,
        classes=classes,
        bands=entries["bands"],
        likenesses=entries["likenesses"],
        judged=entries["judged"],
        sign_groups=groups,
        signs=sign_tables(tuple(classes.values()), tuple(groups.values()), checks),
    )
    sources.problems += reference_problems(rubric, sources)
    return without_strangers(rubric, _strangers("jobs", jobs, sources), _strangers("checks", checks, sources))


def _note_head(head: RubricFile, document: Document, sources: Sources) -> None:
    """What a family file must say of itself."""
    for key in HEAD_KEYS:
        if not getattr(head, key) and key not in document.data:
            sources.note(MESSAGES, "rubric.head_missing", "", document.place(), key=key)
    size = head.default_size
    if head.sizes and size and size not in head.sizes:
        sources.note(REFERENCE_MESSAGES, "reference.default_size", "", document.place("default_size"), size=size)


def _hash(sources: Sources) -> str:
    """SHA-256 of everything that was read, in hexadecimal; comments, spacing and file names do not change it."""
    texts = [
        json.dumps(document.data, sort_keys=False, ensure_ascii=False, separators=(",", ":"))
        for document in sources.documents.values()
    ]
    return hashlib.sha256("\n".join(texts).encode()).hexdigest()


class _OfFamilies(Protocol):
    """What is written for some families, or for all."""

    @property
    def families(self) -> tuple[str, ...]: ...


Entry = TypeVar("Entry", bound=_OfFamilies)


def _of_family(entries: Mapping[str, Entry], family: str) -> dict[str, Entry]:
    return {name: one for name, one in entries.items() if not one.families or family in one.families}


def _formulas(checks: Mapping[str, Check], key: str, sources: Sources) -> dict[str, Formula]:
    """The formulas under a key, parsed; mistakes are placed at their column where the text allows it."""
    found: dict[str, Formula] = {}
    for name, check in checks.items():
        text = getattr(check, key)
        formula = parse_formula(formula_today(text, sources.entries["renamed"])) if text is not None else None
        if isinstance(formula, Formula):
            found[name] = formula
        elif formula is not None:
            place = _inside_text(sources, name, key, formula.place.column if formula.place else 1)
            sources.problems.append(
                Problem(formula.code, f'check "{name}", {key}', formula.what, formula.what_to_do, place)
            )
    return found


def _inside_text(sources: Sources, name: str, key: str, column: int) -> Place | None:
    place = sources.place("checks", name, key)
    if place is None:
        return None
    document, base = sources.layers["checks", name][-1]
    spot = document.spot_at(*base, key)
    inside = spot.text_column and (spot.line, document.name) == (place.line, place.file)
    return Place(place.file, place.line, spot.text_column + column - 1) if inside else place


def _strangers(kind: str, here: Mapping[str, object], sources: Sources) -> set[str]:
    """Ids that were dropped or belong to other families only; a shared entry may go on naming them."""
    dropped = {name for one, name in sources.dropped if one == kind}
    return (set(sources.entries[kind]) | dropped) - set(here)
