"""Whatever was acknowledged is there after a kill, on both databases; `python -m tests.kills` does it 500 times."""

from pathlib import Path

from tests.kills import kill_again_and_again

FEW = 12


def test_nothing_that_was_acknowledged_is_lost(where: Path | str) -> None:
    found = kill_again_and_again(where, FEW)
    assert (found.kills, found.lost, found.broken) == (FEW, 0, 0)
    assert found.acknowledged > FEW
