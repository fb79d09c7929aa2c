"""Fleets to try with: the examples over and over under other titles, and an archive of files."""

import io
import zipfile
from collections.abc import Mapping
from pathlib import Path

from evaluator.fleet.sources import Source
from evaluator.store.folders import rubrics_folder

EXAMPLES = sorted((rubrics_folder() / "examples").glob("*.yaml"))


def many(count: int) -> list[Source]:
    """So many instruments, no two of one name: the examples in turn."""
    found = [(EXAMPLES[i % len(EXAMPLES)].read_bytes(), f"rack/{i:04}.yaml") for i in range(count)]
    return [Source(name, content) for content, name in found]


def folder_of(place: Path, count: int) -> Path:
    """The same as files in a folder."""
    place.mkdir()
    for source in many(count):
        (place / Path(source.name).name).write_bytes(source.content)
    return place


def zipped(files: Mapping[str, bytes]) -> bytes:
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as archive:
        for name, content in files.items():
            archive.writestr(name, content)
    return out.getvalue()
