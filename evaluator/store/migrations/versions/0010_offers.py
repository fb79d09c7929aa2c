"""Offers that are kept, and the shop's own stock."""

import sqlalchemy as sa
from alembic import op

revision = "0010"
down_revision = "0009"
branch_labels = None
depends_on = None


def upgrade() -> None:
    op.create_table(
        "offers",
        sa.Column("id", sa.String(16), nullable=False),
        sa.Column("number", sa.String(80), nullable=False),
        sa.Column("evaluation", sa.String(16), nullable=False),
        sa.Column("state", sa.String(16), nullable=False),
        sa.Column("made", sa.String(32), nullable=False),
        sa.Column("changed", sa.String(32), nullable=False),
        sa.Column("record", sa.JSON, nullable=False),
        sa.PrimaryKeyConstraint("id", name="pk_offers"),
        sa.UniqueConstraint("number", name="uq_offers_number"),
        sa.ForeignKeyConstraint(["evaluation"], ["evaluations.id"], name="fk_offers_evaluation_evaluations"),
    )
    op.create_index("ix_offers_evaluation", "offers", ["evaluation"])
    op.create_table(
        "stock",
        sa.Column("id", sa.String(16), nullable=False),
        sa.Column("number", sa.String(80), nullable=False),
        sa.Column("evaluation", sa.String(16), nullable=False),
        sa.Column("offer", sa.String(16)),
        sa.Column("version", sa.Integer, nullable=False),
        sa.Column("made", sa.String(32), nullable=False),
        sa.Column("sold_on", sa.String(10)),
        sa.Column("record", sa.JSON, nullable=False),
        sa.PrimaryKeyConstraint("id", name="pk_stock"),
        sa.UniqueConstraint("number", name="uq_stock_number"),
        sa.ForeignKeyConstraint(["evaluation"], ["evaluations.id"], name="fk_stock_evaluation_evaluations"),
        sa.ForeignKeyConstraint(["offer"], ["offers.id"], name="fk_stock_offer_offers"),
    )
    op.create_index("ix_stock_evaluation", "stock", ["evaluation"])


def downgrade() -> None:
    op.drop_table("stock")
    op.drop_table("offers")
