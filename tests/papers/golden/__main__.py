"""Keeps the papers as they are now, all or those named: `python -m tests.papers.golden bill`. Look at the diff."""

import sys

from tests.papers.golden.looks import KEPT, keep
from tests.papers.golden.papers import PAPERS

names = sys.argv[1:] or list(PAPERS)
for name in names:
    keep(name, PAPERS[name]())
if len(sys.argv) == 1:
    for path in KEPT.glob("*.json"):
        if path.stem not in PAPERS:
            path.unlink()
size = sum(path.stat().st_size for path in KEPT.glob("*.json"))
sys.stderr.write(f"{len(names)} papers kept, {size // 1000} kB in all\n")
