"""The tables of the workshop's days. `record` is a frozen pure record as plain values; times are ISO texts, UTC."""

from sqlalchemy import JSON, Column, ForeignKey, Integer, String, Table, Text

from ..schema import SORTED_LETTERS, metadata, sorted_as

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

# `record` holds what was typed, field by field. `erased`: when a customer's data were taken out.
customers = Table(
    "customers",
    metadata,
    Column("id", String(16), primary_key=True),
    Column("version", Integer, nullable=False),
    Column("name", String(200), nullable=False),
    Column("record", JSON, nullable=False),
    Column("made", String(32), nullable=False),
    Column("changed", String(32), nullable=False),
    Column("erased", String(32)),
    Column("sorted_as", String(SORTED_LETTERS), nullable=False, default=sorted_as("name")),
)

instruments = Table(
    "instruments",
    metadata,
    Column("id", String(16), primary_key=True),
    Column("version", Integer, nullable=False),
    Column("customer", String(16), ForeignKey("customers.id"), index=True),
    Column("name", String(200), nullable=False),
    Column("record", JSON, nullable=False),
    Column("made", String(32), nullable=False),
    Column("changed", String(32), nullable=False),
)

instrument_looks = Table(
    "instrument_looks",
    metadata,
    Column("evaluation", String(16), ForeignKey("evaluations.id"), primary_key=True),
    Column("instrument", String(16), ForeignKey("instruments.id"), nullable=False, index=True),
)

# What was noted for an instrument on a day: a service elsewhere, a new string, a word with the customer.
instrument_notes = Table(
    "instrument_notes",
    metadata,
    Column("id", String(16), primary_key=True),
    Column("instrument", String(16), ForeignKey("instruments.id"), nullable=False, index=True),
    Column("on", String(10), nullable=False),
    Column("text", String(2000), nullable=False),
    Column("by", String(80), nullable=False),
)

# What the workshop says of an order beside its quote: by when, how urgent, and when it was collected.
order_marks = Table(
    "order_marks",
    metadata,
    Column("quote", String(16), ForeignKey("quotes.id"), primary_key=True),
    Column("ready_by", String(10)),
    Column("urgent", Integer, nullable=False),
    Column("collected", String(32)),
)

# Every version of the shop's own opinions as the text of an overlay; `on`: whether this version counts.
shop_opinions = Table(
    "shop_opinions",
    metadata,
    Column("version", Integer, primary_key=True, autoincrement=False),
    Column("text", Text, nullable=False),
    Column("on", Integer, nullable=False),
    Column("changed", String(32), nullable=False),
    Column("by", String(80), nullable=False),
)

# What a customer asked or said of a line of a quote (empty `job`: of all of it), and what the workshop answered.
remarks = Table(
    "remarks",
    metadata,
    Column("id", String(16), primary_key=True),
    Column("quote", String(16), ForeignKey("quotes.id"), nullable=False, index=True),
    Column("job", String(80), nullable=False),
    Column("text", String(1000), nullable=False),
    Column("by", String(80), nullable=False),
    Column("ours", Integer, nullable=False),
    Column("at", String(32), nullable=False),
)

# The covering paragraph of an evaluation's papers; the last text counts.
coverings = Table(
    "coverings",
    metadata,
    Column("evaluation", String(16), ForeignKey("evaluations.id"), primary_key=True),
    Column("text", Text, nullable=False),
    Column("version", Integer, nullable=False),
    Column("changed", String(32), nullable=False),
    Column("by", String(80), nullable=False),
)
