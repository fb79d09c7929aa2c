"""The shop's book of known sales, and choices that hold for the whole shop."""

import sqlalchemy as sa
from alembic import op

revision = "0003"
down_revision = "0002"
branch_labels = None
depends_on = None


def upgrade() -> None:
    op.create_table(
        "known_sales",
        sa.Column("id", sa.String(16), nullable=False),
        sa.Column("version", sa.Integer, nullable=False),
        sa.Column("changed", sa.String(32), nullable=False),
        sa.Column("sold_on", sa.String(10), nullable=False),
        sa.Column("record", sa.JSON, nullable=False),
        sa.PrimaryKeyConstraint("id", name="pk_known_sales"),
    )
    op.create_table(
        "choices",
        sa.Column("name", sa.String(60), nullable=False),
        sa.Column("value", sa.String(200), nullable=False),
        sa.PrimaryKeyConstraint("name", name="pk_choices"),
    )


def downgrade() -> None:
    op.drop_table("choices")
    op.drop_table("known_sales")
