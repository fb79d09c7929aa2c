"""The tables of the workshop's days. `record` is a frozen pure record as plain values; times are ISO texts, UTC."""

from sqlalchemy import Column, Integer, String, Table, Text

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
