"""Every table of words, as it is read aloud: words.txt has a line a code, so that no wording changes unread.

`python -m tests.wording.test_tables` writes it anew, and the change is to be read before it is kept.
"""

from collections.abc import Iterator
from pathlib import Path

from tests.wording.test_nonsense import TABLES, tables_of

KEPT = Path(__file__).parent / "words.txt"


def lines() -> Iterator[str]:
    """'headline.HEADLINES.buy | A good buy at {asking}.'"""
    for module in TABLES:
        home = module.__name__.rpartition(".")[2]
        for name, table in tables_of(module):
            for code, said in table.items():
                words = " / ".join(said) if isinstance(said, tuple) else said
                yield f"{home}.{name}.{code} | {words}"


def test_every_wording_is_as_it_was_read() -> None:
    assert list(lines()) == KEPT.read_text(encoding="utf-8").splitlines()


if __name__ == "__main__":
    KEPT.write_text("".join(f"{line}\n" for line in lines()), encoding="utf-8")
