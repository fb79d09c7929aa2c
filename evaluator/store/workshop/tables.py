"""The tables of the workshop's days. `record` is a frozen pure record as plain values; times are ISO texts, UTC."""

from sqlalchemy import JSON, Column, ForeignKey, Integer, String, Table, Text

from ..schema import metadata

# Every version of the shop's own figures, as the YAML text that --shop takes; the last one counts.
shop_figures = Table(
    "shop_figures",
    metadata,
    Column("version", Integer, primary_key=True, autoincrement=False),
    Column("text", Text, nullable=False),
    Column("changed", String(32), nullable=False),
    Column("by", String(80), nullable=False),
)

# A draft as it was reckoned, and each change laid over it, in their order; the quote itself holds both together.
quote_bases = Table(
    "quote_bases",
    metadata,
    Column("quote", String(16), ForeignKey("quotes.id"), primary_key=True),
    Column("record", JSON, nullable=False),
)

quote_changes = Table(
    "quote_changes",
    metadata,
    Column("quote", String(16), ForeignKey("quotes.id"), primary_key=True),
    Column("place", Integer, primary_key=True),
    Column("record", JSON, nullable=False),
)
