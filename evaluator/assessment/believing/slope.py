"""What a reading beyond a limit is worth where the rubric writes no points of its own: a slope, never a cliff.

A limit is a habit of makers and no wall. Just outside it a reading is worth nearly as much as just inside; only at some
distance does it count as little as the outcome says.
"""

from ...rubric.rubric import Limits

# How far beyond a limit a reading counts as little as its outcome says, as a share of the width of what is right.
# Judged at the bench: the thickest string a millimetre of action wide is a quarter of a millimetre out of the way
# before the hand minds.
BEYOND = 0.5
# The same where only one side has a limit, as a share of that limit.
BEYOND_ALONE = 0.15


def slope(limits: Limits, below: float, within: float, above: float) -> tuple[tuple[float, float], ...]:
    """Points of worth (0..1) by reading: `within` between the limits, falling to `below` and `above` outside them."""
    low, high = limits.low, limits.high
    if low is not None and high is not None:
        far = BEYOND * (high - low)
    else:
        far = BEYOND_ALONE * abs(low if low is not None else high or 0.0)
    if far <= 0:
        return ()
    points = []
    if low is not None:
        points += [(low - far, below), (low, within)]
    if high is not None:
        points += [(high, within), (high + far, above)]
    return tuple(points)
