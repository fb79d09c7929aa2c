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

# How far each series of numbers has come. A number is given in the transaction that keeps what it is for.
number_series = Table(
    "number_series",
    metadata,
    Column("name", String(80), primary_key=True),
    Column("last", Integer, nullable=False),
)

# Bills and credit notes as they were given; nothing here is ever changed.
bills = Table(
    "bills",
    metadata,
    Column("id", String(16), primary_key=True),
    Column("number", String(80), nullable=False, unique=True),
    Column("quote", String(16), ForeignKey("quotes.id"), nullable=False, index=True),
    Column("kind", String(16), nullable=False),
    Column("corrects", String(80)),
    Column("made", String(32), nullable=False),
    Column("record", JSON, nullable=False),
)

payments = Table(
    "payments",
    metadata,
    Column("id", String(16), primary_key=True),
    Column("number", String(80), nullable=False, unique=True),
    Column("quote", String(16), ForeignKey("quotes.id"), nullable=False, index=True),
    Column("made", String(32), nullable=False),
    Column("record", JSON, nullable=False),
)
