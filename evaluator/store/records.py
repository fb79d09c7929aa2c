"""Where the records of a shop lie: a folder with its photos and its key, and a database, a file in that folder or on a
server. Only the user who runs the service may read them.
"""

import os
import secrets
import sys
from dataclasses import dataclass
from pathlib import Path

from sqlalchemy import make_url

APP_FOLDER = "bowed-evaluator"
KEY_LETTERS = 64
FILE, DEMO_FILE = "evaluations.sqlite", "demo.sqlite"


@dataclass(frozen=True, slots=True)
class Records:
    """`address`: of the database on a server; empty for the file in the folder. `demo`: the file of the examples."""

    folder: Path
    address: str = ""
    demo: bool = False

    @property
    def database(self) -> Path | str:
        """What `open_database` takes."""
        return self.address or self.folder / (DEMO_FILE if self.demo else FILE)

    @property
    def photos(self) -> Path:
        return self.folder / "photos"

    @property
    def backups(self) -> Path:
        """Where the daily backups lie unless another folder is named."""
        return self.folder / "backups"

    @property
    def key(self) -> Path:
        return self.folder / "secret-key"

    def named(self) -> str:
        """The database in words that may be shown: without a password."""
        return shown(self.database)


def shown(where: Path | str) -> str:
    """A path or an address without its password."""
    return make_url(where).render_as_string(hide_password=True) if isinstance(where, str) else str(where)


def user_data_folder() -> Path:
    """Where this system keeps a program's data for a user."""
    if sys.platform == "win32":
        return Path(os.environ.get("LOCALAPPDATA", Path.home() / "AppData" / "Local")) / APP_FOLDER
    if sys.platform == "darwin":
        return Path.home() / "Library" / "Application Support" / APP_FOLDER
    return Path(os.environ.get("XDG_DATA_HOME") or Path.home() / ".local" / "share") / APP_FOLDER


def secret_key(records: Records) -> str:
    """A key of this installation, made once: open forms outlive a restart. One that was cut short is made anew."""
    if records.key.exists():
        found = records.key.read_text(encoding="ascii", errors="replace").strip()
        if len(found) >= KEY_LETTERS:
            return found
    made = secrets.token_hex(KEY_LETTERS // 2)
    write_private(records.key, made.encode("ascii"))
    return made


def private_folder(path: Path) -> None:
    """The folder and those above it that are missing, for this user alone; Python gives the mode to the last alone."""
    if not path.exists():
        private_folder(path.parent)
        path.mkdir(mode=0o700, exist_ok=True)


def write_private(path: Path, content: bytes) -> None:
    """Write a file that only this user can read, whole or not at all."""
    private_folder(path.parent)
    waiting = path.with_name(f"{path.name}.{os.getpid()}.part")
    try:
        with open(os.open(waiting, os.O_WRONLY | os.O_CREAT | os.O_TRUNC, 0o600), "wb") as file:
            file.write(content)
            file.flush()
            os.fsync(file.fileno())
        waiting.replace(path)
    finally:
        waiting.unlink(missing_ok=True)
