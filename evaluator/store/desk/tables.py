"""Offers for instruments, and the shop's own stock; `record` is the frozen pure record as plain values."""

from sqlalchemy import JSON, Column, ForeignKey, Integer, String, Table

from ..schema import metadata

offers = Table(
    "offers",
    metadata,
    Column("id", String(16), primary_key=True),
    Column("number", String(80), nullable=False, unique=True),
    Column("evaluation", String(16), ForeignKey("evaluations.id"), nullable=False, index=True),
    Column("state", String(16), nullable=False),
    Column("made", String(32), nullable=False),
    Column("changed", String(32), nullable=False),
    Column("record", JSON, nullable=False),
)

stock = Table(
    "stock",
    metadata,
    Column("id", String(16), primary_key=True),
    Column("number", String(80), nullable=False, unique=True),
    Column("evaluation", String(16), ForeignKey("evaluations.id"), nullable=False, index=True),
    Column("offer", String(16), ForeignKey("offers.id")),
    Column("version", Integer, nullable=False),
    Column("made", String(32), nullable=False),
    Column("sold_on", String(10)),
    Column("record", JSON, nullable=False),
)
