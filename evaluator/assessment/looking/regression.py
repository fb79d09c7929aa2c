"""What a group of looks would tell of a value, from the draws alone: its regression on what the looks show.

The value of partial information is the value of deciding by the fitted values (Strong, Oakley and Brennan, Medical
Decision Making 34, 2014). The fit is drawn in for the number of its columns, else chance would look like knowledge.
"""

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]


def told_by(shown: Floats, value: Floats) -> Floats:
    """What the value is expected to be once these columns are known: least squares, drawn in for their number."""
    mean = float(value.mean())
    away = shown - shown.mean(axis=0)
    away = away[:, np.abs(away).max(axis=0, initial=0.0) > 0]
    spread = float(((value - mean) ** 2).sum())
    if not away.shape[1] or spread <= 0:
        return np.full(len(value), mean)
    # By the normal equations: a few dozen columns of 0 and 1, so squaring their condition does no harm.
    fitted: Floats = away @ np.linalg.lstsq(away.T @ away, away.T @ (value - mean), rcond=None)[0]
    told = float((fitted**2).sum()) / spread
    free = len(value) - 1 - away.shape[1]
    honest = max(0.0, 1.0 - (1.0 - told) * (len(value) - 1) / max(1, free))
    return mean + fitted * np.sqrt(honest / told) if told > 0 else np.full(len(value), mean)


def columns_of(outcome: NDArray[np.int16], count: int) -> Floats:
    """What a check shows in each world, a column of 0 and 1 for every outcome but the first."""
    return np.column_stack([outcome == index for index in range(1, count)]).astype(float)
