"""The trade's formulas, pure and small, each with units in its names, its range of validity and its source."""


class ImpossibleError(ValueError):
    """No answer exists for these figures, such as a circle through a line; the text says why for whoever gave them."""
