"""A sheet that shows how the shop's papers look, and is none itself."""

from collections.abc import Sequence

from ..blocks import Column, Heading, Lead, Paper, Paragraph, Signature, TableBlock

COLUMNS = (Column("Work", 0.75), Column("Price", 0.25, True))
ROWS = (("Fit a new bridge", "120.00"), ("Set the soundpost", "40.00"), ("Total", "160.00"))


def preview_paper(letterhead: str, contact: Sequence[str], logo: bytes) -> Paper:
    """Head and foot of every page, a table with a total, and the lines to sign on; its figures are made up."""
    blocks = (
        Lead("This is how your papers look."),
        Paragraph("Made up to show the head, the logo, the table and the signature. It is no quote.", "strong"),
        Heading("A table", 2),
        TableBlock(COLUMNS, ROWS, totals=1),
        Signature(("For the workshop", "Agreed by", "Place and date")),
    )
    return Paper("Preview", letterhead, "A sheet to look at", blocks, tuple(contact), logo=logo)
