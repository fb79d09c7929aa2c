"""Where the rubrics and the page templates lie: inside an installed wheel, or beside the package in a checkout."""

from pathlib import Path


def _folder(name: str) -> Path:
    package = Path(__file__).parents[1]
    installed = package / "_data" / name
    return installed if installed.is_dir() else package.parent / name


def rubrics_folder() -> Path:
    """The folder of rubrics, standards, jobs, the default shop file and the examples."""
    return _folder("rubrics")


def templates_folder() -> Path:
    """The folder of Jinja pages."""
    return _folder("templates")
