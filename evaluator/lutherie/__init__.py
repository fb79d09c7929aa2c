"""The trade's formulas, pure and small, each with units in its names, its range of validity and its source."""
