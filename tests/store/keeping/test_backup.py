"""A backup: made while others write, brought back on either database, refused where a byte of it is wrong."""

import json
import random
import stat
import zipfile
from collections.abc import Iterator
from pathlib import Path

import pytest
from sqlalchemy import Engine

from evaluator.store.engine import open_database
from evaluator.store.evaluations import create, find
from evaluator.store.keeping.backup import Wanted, back_up
from evaluator.store.keeping.backup_file import Listed, opened, photo_part, table_part
from evaluator.store.keeping.restore import restore
from evaluator.store.people import last_deeds, note_deed
from evaluator.store.photos import kept_photos
from evaluator.store.quotes import find_quote
from evaluator.store.records import Records
from tests.postgres import Server
from tests.store.filled import NOW, Filled, fill, marks


@pytest.fixture
def records(where: Path | str, tmp_path: Path) -> Records:
    return Records(where.parent, "") if isinstance(where, Path) else Records(tmp_path / "records", where)


@pytest.fixture
def source(records: Records) -> Iterator[Engine]:
    found = open_database(records.database)
    yield found
    found.dispose()


@pytest.fixture
def filled(source: Engine, records: Records) -> Filled:
    return fill(source, records)


@pytest.fixture
def made(source: Engine, records: Records, filled: Filled, tmp_path: Path) -> Path:
    path = tmp_path / "made" / "one.zip"
    back_up(source, records, path, NOW)
    return path


@pytest.fixture(params=["sqlite", pytest.param("postgresql", marks=pytest.mark.postgres)])
def empty(request: pytest.FixtureRequest, tmp_path: Path) -> Iterator[Records]:
    """An empty place on either database."""
    folder = tmp_path / "empty"
    if request.param == "sqlite":
        yield Records(folder)
        return
    server: Server = request.getfixturevalue("server")
    address = server.empty()
    yield Records(folder, address)
    server.drop(address)


def test_what_was_backed_up_comes_back_row_by_row(
    source: Engine, made: Path, empty: Records, records: Records, filled: Filled
) -> None:
    before = marks(source)
    found = restore(made, empty)
    assert isinstance(found, Listed), found
    again = open_database(empty.database)
    assert marks(again) == before
    assert kept_photos(empty.photos) == (filled.photo,)
    assert not empty.key.exists(), "the key goes along only where it is asked for"
    kept = find_quote(again, filled.quote)
    assert kept == find_quote(source, filled.quote) and kept is not None and len(kept.chain) == 2
    note_deed(again, NOW, "Anna", "goes on", "")
    assert [one.id for one in last_deeds(again)] == [3, 2, 1]
    again.dispose()


def test_it_is_packed(made: Path) -> None:
    with zipfile.ZipFile(made) as archive:
        rows = [one for one in archive.infolist() if one.filename == table_part("evaluations")]
    assert rows[0].compress_size < rows[0].file_size / 4


def test_it_holds_one_state_while_others_write(
    source: Engine, records: Records, filled: Filled, tmp_path: Path
) -> None:
    path, written = tmp_path / "one.zip", []
    before = marks(source)

    def write(_line: str) -> None:
        written.append(create(source, "violin", {"start": {"title": "meanwhile"}, "answers": {}}, NOW))
        note_deed(source, NOW, "Ben", "writes", "meanwhile")

    back_up(source, records, path, NOW, tell=write)
    place = Records(tmp_path / "place")
    assert isinstance(restore(path, place), Listed)
    again = open_database(place.database)
    assert marks(again) == before
    assert written and find(again, written[0]) is None and find(source, written[0]) is not None
    again.dispose()


def test_settings_and_the_key_go_along_where_they_are_asked_for(
    source: Engine, records: Records, filled: Filled, tmp_path: Path
) -> None:
    shop, path, place = tmp_path / "mine.yaml", tmp_path / "one.zip", Records(tmp_path / "place")
    shop.write_text("currency: EUR\n")
    back_up(source, records, path, NOW, Wanted({"shop.yaml": shop}, key=True))
    assert isinstance(restore(path, place), Listed)
    assert place.key.read_bytes() == records.key.read_bytes()
    assert (place.folder / "shop.yaml").read_text() == "currency: EUR\n"
    assert {stat.S_IMODE(one.stat().st_mode) for one in (path, place.key, place.folder / "evaluations.sqlite")} == {
        0o600
    }


def test_photos_may_lie_beside_once_for_all(source: Engine, records: Records, filled: Filled, tmp_path: Path) -> None:
    folder = tmp_path / "daily"
    for name in ("one.zip", "two.zip"):
        back_up(source, records, folder / name, NOW, Wanted(inside=False))
    assert len(list(folder.rglob("*.jpg"))) == 1
    place = Records(tmp_path / "place")
    assert isinstance(restore(folder / "two.zip", place), Listed)
    assert kept_photos(place.photos) == (filled.photo,)
    next(folder.rglob("*.jpg")).unlink()
    told = restore(folder / "one.zip", Records(tmp_path / "other"))
    assert isinstance(told, tuple) and [one.code for one in told] == ["backup.missing"]


def test_it_is_never_put_over_records(made: Path, records: Records, source: Engine, tmp_path: Path) -> None:
    before = marks(source)
    told = restore(made, records)
    assert isinstance(told, tuple) and [one.code for one in told] == ["restore.taken"]
    assert marks(source) == before
    place = Records(tmp_path / "place")
    place.photos.mkdir(parents=True)
    (place.photos / "mine.jpg").write_bytes(b"mine")
    told = restore(made, place)
    assert isinstance(told, tuple) and str(place.photos / "mine.jpg") in str(told[0])


def test_a_backup_that_is_broken_off_leaves_nothing(source: Engine, records: Records, tmp_path: Path) -> None:
    path = tmp_path / "made" / "one.zip"

    def stop(_line: str) -> None:
        raise KeyboardInterrupt

    with pytest.raises(KeyboardInterrupt):
        back_up(source, records, path, NOW, tell=stop)
    assert list(path.parent.iterdir()) == []


def test_a_restore_that_is_broken_off_leaves_nothing(made: Path, empty: Records) -> None:
    def stop(line: str) -> None:
        if line.startswith("consents"):
            raise KeyboardInterrupt

    with pytest.raises(KeyboardInterrupt):
        restore(made, empty, stop)
    assert [one for one in empty.folder.rglob("*") if one.is_file()] == []
    assert isinstance(restore(made, empty), Listed), "the place is still empty"


def codes(path: Path, place: Path) -> list[str]:
    told = restore(path, Records(place))
    assert isinstance(told, tuple)
    assert not place.exists()
    return [one.code for one in told]


def rewritten(path: Path, goal: Path, change: dict[str, bytes | None]) -> Path:
    """A copy in which some parts have another content, or None: are left out."""
    with zipfile.ZipFile(path) as old, zipfile.ZipFile(goal, "w") as new:
        for name in old.namelist():
            content = change.get(name, old.read(name))
            if content is not None:
                new.writestr(name, content)
    return goal


@pytest.fixture
def plain(tmp_path: Path) -> tuple[Path, Filled]:
    """A backup of a SQLite file, for what has nothing to do with the database."""
    records = Records(tmp_path / "plain")
    engine = open_database(records.database)
    filled = fill(engine, records)
    back_up(engine, records, tmp_path / "plain.zip", NOW)
    engine.dispose()
    return tmp_path / "plain.zip", filled


def test_what_is_damaged_is_told_with_its_place(plain: tuple[Path, Filled], tmp_path: Path) -> None:
    path, filled = plain
    with zipfile.ZipFile(path) as archive:
        consents, listed = archive.read(table_part("consents")), json.loads(archive.read("list.json"))
    place, other = tmp_path / "place", tmp_path / "other.zip"
    forged = consents.replace(b"A. Player", b"B. Player")
    cases = {
        ("backup.damaged", table_part("consents")): {table_part("consents"): forged},
        ("backup.missing", table_part("quotes")): {table_part("quotes"): None},
        ("backup.damaged", photo_part(filled.photo)): {photo_part(filled.photo): b"another picture"},
        ("backup.none", ""): {"list.json": None},
        ("backup.newer", "9.9"): {"list.json": json.dumps(listed | {"form": "9999", "program": "9.9"}).encode()},
    }
    for (code, named), change in cases.items():
        told = restore(rewritten(path, other, change), Records(place))
        assert isinstance(told, tuple)
        assert [one.code for one in told] == [code]
        assert named in told[0].what and str(other) in told[0].where
        assert not place.exists()


def test_what_is_no_backup_is_told(plain: tuple[Path, Filled], tmp_path: Path) -> None:
    whole, place, other = plain[0].read_bytes(), tmp_path / "place", tmp_path / "other.zip"
    for content in (b"", b"PK", b"\0" * 5000, whole[:-1], whole[: len(whole) // 2], whole[len(whole) // 2 :]):
        other.write_bytes(content)
        assert codes(other, place)[0] in ("backup.none", "backup.damaged")
    assert codes(tmp_path / "nowhere.zip", place) == ["backup.unreadable"]
    assert codes(tmp_path, place) == ["backup.unreadable"]


def test_a_bit_that_is_wrong_is_found_or_is_none_that_counts(plain: tuple[Path, Filled], tmp_path: Path) -> None:
    whole, other = plain[0].read_bytes(), tmp_path / "other.zip"
    with opened(plain[0]) as backup:
        assert not isinstance(backup, tuple)
        rows = {name: list(backup.rows(name)) for name in backup.tables}
    chance, refused, bits = random.Random(5), 0, 8 * len(whole)
    anywhere = [chance.randrange(bits) for _ in range(120)]
    directory = range(bits - 8 * 22 - 8 * 55, bits)  # of its list's entry, the last, and of the archive's end
    for bit in (*anywhere, *directory[::3], *directory[-8 * 10 :]):
        place = bit // 8
        other.write_bytes(whole[:place] + bytes([whole[place] ^ (1 << bit % 8)]) + whole[place + 1 :])
        with opened(other) as backup:
            if isinstance(backup, tuple):
                refused += bit in anywhere
                continue
            assert {name: list(backup.rows(name)) for name in backup.tables} == rows
    assert refused > 90, "nearly all of a backup is content"
