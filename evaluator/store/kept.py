"""Records that were made of files before, kept in the user's cache folder so that they need not be made again.

What was kept is trusted no further than it must be: a file that is not the user's own, is damaged, or names anything
but the records of a rubric or a shop is passed over. A folder that cannot be written is done without.
"""

import contextlib
import hashlib
import hmac
import io
import os
import pickle
import sys
from collections.abc import Callable, Iterable
from functools import lru_cache
from pathlib import Path
from typing import TypeVar

import pydantic

from .. import __version__
from ..basis.problem import Problem

RECORDS_IN = ("evaluator.rubric.", "evaluator.basis.formulas.")  # the modules whose classes a kept file may name
PLAIN = frozenset({("decimal", "Decimal")})  # what they hold beside
MOST_KEPT = 24
DIGEST = hashlib.sha256().digest_size
OWN_CODE = ("basis", "rubric")  # the rooms of the program that make such records of files

Records = TypeVar("Records")


class NotOursError(pickle.UnpicklingError):
    """A kept file names what no rubric and no shop holds."""


class _Reader(pickle.Unpickler):
    """Makes the records of rubrics and shops alone; anything else in the file is refused before it is made."""

    def find_class(self, module: str, name: str) -> type:
        ours = (module, name) in PLAIN or (module.startswith(RECORDS_IN) and "." not in name)
        found = super().find_class(module, name) if ours else None
        if not isinstance(found, type) or found.__module__ != module:
            raise NotOursError(f"{module}.{name}")
        return found


def made_once(
    what: object,
    files: Callable[[], Iterable[Path]],
    kind: type[Records],
    suffix: str,
    make: Callable[[], tuple[Records | None, tuple[Problem, ...]]],
) -> tuple[Records | None, tuple[Problem, ...]]:
    """What `make` gives, records or problems; from what was kept where it was made of the very same files."""
    folder = cache_folder()
    try:
        key = key_of(what, files()) if folder else ""
    except OSError:  # what cannot be read is told by the reader, with its place
        key = ""
    before = kept(folder / f"{key}{suffix}", kind) if folder and key else None
    if before is not None:
        return before, ()
    found, problems = make()
    if found is not None and folder and key:
        keep(found, folder / f"{key}{suffix}")
    return found, problems


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


def key_of(what: object, files: Iterable[Path]) -> str:
    """What records follow from, as one hash in hexadecimal: `what` they are, the files, this program, Python and its
    libraries. Raises OSError where a file cannot be read.
    """
    said = hashlib.sha256(repr((__version__, sys.version, pydantic.VERSION, _program(), what)).encode())
    for path in files:
        content = path.read_bytes()
        said.update(f"\n{path}\n{len(content)}\n".encode())
        said.update(content)
    return said.hexdigest()


@lru_cache(maxsize=1)
def _program() -> tuple[tuple[str, int, int], ...]:
    """The modules that make such records, with size and day of change: a version may be in the making."""
    package = Path(__file__).parents[1]
    found = []
    for room in OWN_CODE:
        for folder, _, names in os.walk(package / room):
            for path in (os.path.join(folder, name) for name in names if name.endswith(".py")):
                stat = os.stat(path)
                found.append((path, stat.st_size, stat.st_mtime_ns))
    return tuple(sorted(found))


def kept(path: Path, kind: type[Records]) -> Records | None:
    """The records of a kept file; None for one that is not there, not the user's, damaged or of another kind."""
    try:
        with path.open("rb") as file:
            owner = getattr(os, "getuid", lambda: None)()
            if owner is not None and os.fstat(file.fileno()).st_uid != owner:
                return None
            digest, content = file.read(DIGEST), file.read()
        if not hmac.compare_digest(digest, hashlib.sha256(content).digest()):
            return None
        found = _Reader(io.BytesIO(content)).load()
    except Exception:  # whatever is wrong with it, the files are there
        return None
    return found if isinstance(found, kind) else None


def keep(records: object, path: Path) -> None:
    """Keep records, in one step so that no reader sees half of them; where that cannot be, do without."""
    import tempfile  # late: on most days nothing is kept anew

    content = pickle.dumps(records, protocol=5)
    folder = path.parent
    with contextlib.suppress(OSError):
        folder.mkdir(mode=0o700, parents=True, exist_ok=True)
        handle, made = tempfile.mkstemp(dir=folder, suffix=".part")
        try:
            with os.fdopen(handle, "wb") as file:
                file.write(hashlib.sha256(content).digest() + content)
            os.replace(made, path)
        except OSError:
            Path(made).unlink(missing_ok=True)
            raise
        _tidy(folder, path.suffix)


def _tidy(folder: Path, suffix: str) -> None:
    """Delete the oldest of a kind where there are too many."""
    found = sorted(folder.glob(f"*{suffix}"), key=lambda path: path.stat().st_mtime)
    for path in found[:-MOST_KEPT]:
        path.unlink(missing_ok=True)
