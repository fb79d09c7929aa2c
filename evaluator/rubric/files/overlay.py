"""A workshop's own opinions over a rubric: add, change or drop, without copying the file.

An overlay `extends` one rubric or several. It drops first, then adds, then changes; a table of standards that exists
gets the overlay's rows before its own. Every entry remembers whose opinion it now is. A family file may `change` and
`drop` what its includes share in the same way; that is nobody's opinion but the rubric's.
"""

from collections.abc import Mapping
from typing import TypeVar

from pydantic import ValidationError

from ...basis.document import Data, Document
from ...basis.problem import Message, Messages
from ..file import RubricFile
from ..written.surroundings import StandardTable
from .mistakes import problems_of
from .renamed import Renamed
from .sources import KINDS, WORD_FOR, Sources, entries_of

MESSAGES: Messages = {
    "overlay.extends_nothing": Message(
        "the file does not say which rubric it extends.", "Begin with a line like extends: violin."
    ),
    "overlay.extends_unknown": Message('there is no rubric "{name}" to extend.', "{hint}"),
    "overlay.nothing_to_change": Message('there is nothing called "{id}" to change.', "{hint}"),
    "overlay.nothing_to_drop": Message('there is nothing called "{id}" to drop.', "{hint}"),
    "overlay.already_there": Message(
        'the {kind} "{id}" is in the rubric already.', "Write what differs under change:, or drop it first."
    ),
    "overlay.renamed": Message("a change cannot give another name.", 'Drop "{id}" and add a new one.'),
}


Key = TypeVar("Key")


def families_named(data: Data) -> tuple[str, ...]:
    """The rubrics that a file says it extends, one or several; none where it says nothing that can be one."""
    says = data.get("extends")
    named = [says] if isinstance(says, str) else says if isinstance(says, list) else []
    return tuple(name for name in named if isinstance(name, str))


def merged(old: Mapping[Key, object], change: Mapping[Key, object]) -> dict[Key, object]:
    """`old` with the keys of `change`; mappings are merged key by key, everything else is replaced."""
    result = dict(old)
    for key, value in change.items():
        before = result.get(key)
        if isinstance(value, Mapping) and isinstance(before, Mapping):
            result[key] = merged(before, value)
        else:
            result[key] = value
    return result


def lay_over(
    written: RubricFile, positions: dict[str, list[int]], document: Document, sources: Sources, whose: str
) -> None:
    """Drop, add and change as an overlay says; `whose` is remembered for everything that it touches."""
    sources.named |= written.sources
    drop(written, document, sources)
    for kind, identity, entry, path in entries_of(written, positions):
        if identity not in sources.entries[kind]:
            sources.add(kind, identity, entry, document, path)
        elif isinstance(entry, StandardTable):
            _add_rows(identity, entry, document, path, sources)
        else:
            word, place = WORD_FOR[kind], document.place(*path)
            sources.note(MESSAGES, "overlay.already_there", f'{word} "{identity}"', place, kind=word, id=identity)
            continue
        sources.opinion_of[identity] = whose
    change(written, document, sources, whose)


def drop(written: RubricFile, document: Document, sources: Sources) -> None:
    """Take away what `drop` names; other entries may go on naming it. What was merged is no longer there to drop."""
    for at, identity in enumerate(written.drop):
        if _is_gone(identity, sources):
            sources.old_name(identity, document.place("drop", at))
            continue
        kind = kind_of(identity, sources)
        if kind is None:
            hint = _hint(identity, sources)
            sources.note(MESSAGES, "overlay.nothing_to_drop", "", document.place("drop", at), id=identity, hint=hint)
            continue
        del sources.entries[kind][identity]
        sources.dropped.add((kind, identity))


def change(written: RubricFile, document: Document, sources: Sources, whose: str | None) -> None:
    """Merge what `change` says into the entries, each validated like one that was written whole."""
    for identity, said in written.change.items():
        if _is_gone(identity, sources):
            sources.old_name(identity, document.place("change", identity, key=True))
            _change_elsewhere(identity, said, document, sources, whose)
            continue
        asked = _with_outcomes_today(identity, said, document, sources)
        if identity in sources.entries["renamed"]:
            _change_elsewhere(identity, said, document, sources, whose)
        kind = kind_of(identity, sources)
        if kind is None:
            if not any((known, identity) in sources.broken for known in KINDS):
                place = document.place("change", identity, key=True)
                hint = _hint(identity, sources)
                sources.note(MESSAGES, "overlay.nothing_to_change", "", place, id=identity, hint=hint)
            continue
        if _change_one(kind, identity, asked, document, sources) and whose:
            sources.opinion_of[identity] = whose


def _is_gone(identity: str, sources: Sources) -> bool:
    """Whether it is a check of before that the rubric no longer has."""
    return identity in sources.entries["renamed"] and identity not in sources.entries["checks"]


def _with_outcomes_today(
    identity: str, asked: Mapping[str, object], document: Document, sources: Sources
) -> Mapping[str, object]:
    """A change of a check under the names that its outcomes have today; each of before is told."""
    entry, told = sources.entries["renamed"].get(identity), asked.get("outcomes")
    if entry is None or not isinstance(told, Mapping):
        return asked
    today: dict[str, object] = {}
    for name, said in told.items():
        check, outcome = entry.today(name) if name in entry.outcomes else ("", name)
        if name in entry.outcomes:
            sources.old_name(identity, document.place("change", identity, "outcomes", name, key=True), name)
        if check in ("", identity):
            today[outcome] = said
    return {**asked, "outcomes": today}


def _change_elsewhere(
    identity: str, said: Mapping[str, object], document: Document, sources: Sources, whose: str | None
) -> None:
    """Change the checks that ask today what this one asked."""
    for now, changed in _outcomes_today(sources.entries["renamed"][identity], said, sources).items():
        if now != identity and _change_one("checks", now, changed, document, sources, was=identity) and whose:
            sources.opinion_of[now] = whose


def _outcomes_today(
    entry: Renamed, asked: Mapping[str, object], sources: Sources
) -> dict[str, dict[str, dict[str, object]]]:
    """What an overlay says of the outcomes of a merged check, by the checks of today; its other keys are no more."""
    told = asked.get("outcomes")
    found: dict[str, dict[str, dict[str, object]]] = {}
    for before, said in told.items() if isinstance(told, Mapping) else ():
        for home, name in entry.all_today(before):
            if home in sources.entries["checks"] and name in sources.entries["checks"][home].outcomes:
                found.setdefault(home, {"outcomes": {}})["outcomes"][name] = said
    return found


def _change_one(
    kind: str, identity: str, asked: Mapping[str, object], document: Document, sources: Sources, was: str = ""
) -> bool:
    """Merge a change into one entry; `was` is the name under which the overlay says it, if it is one of before."""
    entry = sources.entries[kind][identity]
    old = entry.model_dump(mode="python", by_alias=True, exclude_unset=True)
    naming = next(iter(type(entry).model_fields))
    if naming in asked and asked[naming] != identity:
        place = document.place("change", identity, naming, key=True)
        sources.note(MESSAGES, "overlay.renamed", f'change of "{identity}"', place, id=identity)
        return False
    new = merged(old, asked)
    try:
        sources.entries[kind][identity] = type(entry).model_validate(new)
    except ValidationError as error:
        said = was or identity
        for one in problems_of(error, new, lambda p, k: document.place("change", said, *p, key=k), type(entry)):
            where = f'change of "{identity}"' + (f", {one.where.split(', ', 1)[1]}" if ", " in one.where else "")
            sources.problems.append(type(one)(one.code, where, one.what, one.what_to_do, one.place))
        return False
    sources.layers[kind, identity].append((document, ("change", was or identity)))
    if kind == "standards":
        _place_changed_rows(identity, "rows" in asked, document, sources)
    return True


def _place_changed_rows(identity: str, rows_are_new: bool, document: Document, sources: Sources) -> None:
    """A changed table was made anew: its rows stand in the change when it writes them, else where they stood."""
    if rows_are_new:
        sources.add_rows(sources.entries["standards"][identity], document, ("change", identity))
        return
    first_document, path = sources.layers["standards", identity][0]
    sources.add_rows(sources.entries["standards"][identity], first_document, path)


def _add_rows(
    identity: str, entry: StandardTable, document: Document, path: tuple[object, ...], sources: Sources
) -> None:
    """Put the overlay's rows before the table's own, so that of equally particular ones the overlay's holds."""
    table: StandardTable = sources.entries["standards"][identity]
    keys = {(row.family, row.size, row.style, row.strings) for row in entry.rows}
    kept = tuple(row for row in table.rows if (row.family, row.size, row.style, row.strings) not in keys)
    sources.entries["standards"][identity] = table.model_copy(update={"rows": entry.rows + kept})
    sources.layers["standards", identity].append((document, path))
    sources.add_rows(entry, document, path)


def kind_of(identity: str, sources: Sources) -> str | None:
    """The kind of the entry that an id names; checks before jobs, standards last (a check may share a table's name)."""
    return next((kind for kind in KINDS if identity in sources.entries[kind]), None)


def _hint(identity: str, sources: Sources) -> str:
    known = (name for kind in KINDS for name in sources.entries[kind])
    return sources.hints.near(identity, known) or "Look at the ids of the rubric."
