"""A map of the instrument with the numbers of the findings: front, back and side, or a bow from its side."""
