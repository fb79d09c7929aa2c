"""Customers, their instruments, what was noted of them, and the marks of orders on the board."""

import sqlalchemy as sa
from alembic import op

revision = "0009"
down_revision = "0008"
branch_labels = None
depends_on = None


def upgrade() -> None:
    op.create_table(
        "customers",
        sa.Column("id", sa.String(16), nullable=False),
        sa.Column("version", sa.Integer, nullable=False),
        sa.Column("name", sa.String(200), nullable=False),
        sa.Column("record", sa.JSON, nullable=False),
        sa.Column("made", sa.String(32), nullable=False),
        sa.Column("changed", sa.String(32), nullable=False),
        sa.Column("erased", sa.String(32)),
        sa.PrimaryKeyConstraint("id", name="pk_customers"),
    )
    op.create_table(
        "instruments",
        sa.Column("id", sa.String(16), nullable=False),
        sa.Column("version", sa.Integer, nullable=False),
        sa.Column("customer", sa.String(16)),
        sa.Column("name", sa.String(200), nullable=False),
        sa.Column("record", sa.JSON, nullable=False),
        sa.Column("made", sa.String(32), nullable=False),
        sa.Column("changed", sa.String(32), nullable=False),
        sa.PrimaryKeyConstraint("id", name="pk_instruments"),
        sa.ForeignKeyConstraint(["customer"], ["customers.id"], name="fk_instruments_customer_customers"),
    )
    op.create_index("ix_instruments_customer", "instruments", ["customer"])
    op.create_table(
        "instrument_looks",
        sa.Column("evaluation", sa.String(16), nullable=False),
        sa.Column("instrument", sa.String(16), nullable=False),
        sa.PrimaryKeyConstraint("evaluation", name="pk_instrument_looks"),
        sa.ForeignKeyConstraint(["evaluation"], ["evaluations.id"], name="fk_instrument_looks_evaluation_evaluations"),
        sa.ForeignKeyConstraint(["instrument"], ["instruments.id"], name="fk_instrument_looks_instrument_instruments"),
    )
    op.create_index("ix_instrument_looks_instrument", "instrument_looks", ["instrument"])
    op.create_table(
        "instrument_notes",
        sa.Column("id", sa.String(16), nullable=False),
        sa.Column("instrument", sa.String(16), nullable=False),
        sa.Column("on", sa.String(10), nullable=False),
        sa.Column("text", sa.String(2000), nullable=False),
        sa.Column("by", sa.String(80), nullable=False),
        sa.PrimaryKeyConstraint("id", name="pk_instrument_notes"),
        sa.ForeignKeyConstraint(["instrument"], ["instruments.id"], name="fk_instrument_notes_instrument_instruments"),
    )
    op.create_index("ix_instrument_notes_instrument", "instrument_notes", ["instrument"])
    op.create_table(
        "order_marks",
        sa.Column("quote", sa.String(16), nullable=False),
        sa.Column("ready_by", sa.String(10)),
        sa.Column("urgent", sa.Integer, nullable=False),
        sa.Column("collected", sa.String(32)),
        sa.PrimaryKeyConstraint("quote", name="pk_order_marks"),
        sa.ForeignKeyConstraint(["quote"], ["quotes.id"], name="fk_order_marks_quote_quotes"),
    )


def downgrade() -> None:
    for table in ("order_marks", "instrument_notes", "instrument_looks", "instruments", "customers"):
        op.drop_table(table)
