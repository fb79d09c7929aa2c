"""A rubric as it was read and checked before, kept so that a command need not read its forty files again.

It is known by a hash of what it was made of: the content of every file, this program, Python and its libraries. What
was kept is trusted no further than it must be: a file that is not the user's own, is damaged, or names anything but the
records of a rubric is passed over, and the files are read as if it were not there. A folder that cannot be written is
done without. Only a rubric without mistakes is kept.
"""

import contextlib
import hashlib
import hmac
import io
import os
import pickle
import sys
import tempfile
from collections.abc import Iterator, Sequence
from functools import lru_cache
from pathlib import Path

import pydantic

from ... import __version__
from ...basis.problem import Problem
from ...rubric.rubric import Rubric

RECORDS_IN = ("evaluator.rubric.", "evaluator.basis.formulas.")  # the modules whose classes a kept rubric may name
MOST_KEPT = 24
DIGEST = hashlib.sha256().digest_size
SUFFIX = ".rubric"
OWN_CODE = ("basis", "rubric")  # the rooms of the program that make a rubric of its files


class NotOursError(pickle.UnpicklingError):
    """A kept file names what no rubric holds."""


class _Records(pickle.Unpickler):
    """Makes the records of a rubric alone; anything else in the file is refused before it is made."""

    def find_class(self, module: str, name: str) -> type:
        found = super().find_class(module, name) if module.startswith(RECORDS_IN) and "." not in name else None
        if not isinstance(found, type) or found.__module__ != module:
            raise NotOursError(f"{module}.{name}")
        return found


def rubric_read(root: Path, name: str, overlays: Sequence[Path] = ()) -> tuple[Rubric | None, tuple[Problem, ...]]:
    """As `load_rubric`, from what was kept where it was made of the very same files."""
    folder = cache_folder()
    try:
        key = _key(root, name, overlays)
    except OSError:  # what cannot be read is told by the reader, with its place
        key = ""
    kept = _kept(folder / f"{key}{SUFFIX}") if folder and key else None
    if kept is not None:
        return kept, ()
    from ...rubric.files.load import load_rubric

    rubric, problems = load_rubric(root, name, overlays)
    if rubric is not None and folder and key:
        _keep(rubric, folder, f"{key}{SUFFIX}")
    return rubric, problems


def cache_folder() -> Path | None:
    """The program's folder for what may be deleted, None where this computer has no place for it.

    XDG_CACHE_HOME where it is set (XDG Base Directory Specification), else the system's own: ~/.cache,
    ~/Library/Caches or %LOCALAPPDATA%.
    """
    named = os.environ.get("XDG_CACHE_HOME", "")
    if named and os.path.isabs(named):
        return Path(named) / "bowed-evaluator"
    if sys.platform == "win32":
        local = os.environ.get("LOCALAPPDATA", "")
        return Path(local) / "bowed-evaluator" / "Cache" if local else None
    try:
        home = Path.home()
    except RuntimeError:
        return None
    return home / ("Library/Caches" if sys.platform == "darwin" else ".cache") / "bowed-evaluator"


def _key(root: Path, name: str, overlays: Sequence[Path]) -> str:
    """What a rubric follows from, as one hash in hexadecimal; raises OSError where a file cannot be read."""
    said = hashlib.sha256(repr((__version__, sys.version, pydantic.VERSION, _program(), str(root), name)).encode())
    for path in (*_files(root), *overlays):
        content = path.read_bytes()
        said.update(f"\n{path}\n{len(content)}\n".encode())
        said.update(content)
    return said.hexdigest()


def _files(root: Path) -> Iterator[Path]:
    """Every file of a rubrics folder that a family may include, in order."""
    for folder, inner, names in os.walk(root):
        inner[:] = sorted(one for one in inner if one not in ("examples", "overlays"))
        yield from (Path(folder, one) for one in sorted(names) if one.endswith((".yaml", ".yml")))


@lru_cache(maxsize=1)
def _program() -> tuple[tuple[str, int, int], ...]:
    """The modules that make a rubric, each with its size and when it was changed: a version may be in the making."""
    package = Path(__file__).parents[2]
    found = []
    for path in sorted(path for room in OWN_CODE for path in (package / room).rglob("*.py")):
        stat = path.stat()
        found.append((str(path), stat.st_size, stat.st_mtime_ns))
    return tuple(found)


def _kept(path: Path) -> Rubric | None:
    """The rubric of a kept file; None for one that is not there, not the user's, damaged or no rubric."""
    try:
        with path.open("rb") as file:
            owner = getattr(os, "getuid", lambda: None)()
            if owner is not None and os.fstat(file.fileno()).st_uid != owner:
                return None
            digest, content = file.read(DIGEST), file.read()
        if not hmac.compare_digest(digest, hashlib.sha256(content).digest()):
            return None
        found = _Records(io.BytesIO(content)).load()
    except Exception:  # whatever is wrong with it, the files are there
        return None
    return found if isinstance(found, Rubric) else None


def _keep(rubric: Rubric, folder: Path, name: str) -> None:
    """Keep a rubric, in one step so that no reader sees half of it; where that cannot be, do without."""
    content = pickle.dumps(rubric, protocol=5)
    with contextlib.suppress(OSError):
        folder.mkdir(mode=0o700, parents=True, exist_ok=True)
        handle, made = tempfile.mkstemp(dir=folder, suffix=".part")
        try:
            with os.fdopen(handle, "wb") as file:
                file.write(hashlib.sha256(content).digest() + content)
            os.replace(made, folder / name)
        except OSError:
            Path(made).unlink(missing_ok=True)
            raise
        _tidy(folder)


def _tidy(folder: Path) -> None:
    """Delete the oldest where there are too many."""
    kept = sorted(folder.glob(f"*{SUFFIX}"), key=lambda path: path.stat().st_mtime)
    for path in kept[:-MOST_KEPT]:
        path.unlink(missing_ok=True)
