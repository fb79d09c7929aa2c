"""The shop's own opinions, every version."""

import sqlalchemy as sa
from alembic import op

revision = "0011"
down_revision = "0010"
branch_labels = None
depends_on = None


def upgrade() -> None:
    op.create_table(
        "shop_opinions",
        sa.Column("version", sa.Integer, autoincrement=False, nullable=False),
        sa.Column("text", sa.Text, nullable=False),
        sa.Column("on", sa.Integer, nullable=False),
        sa.Column("changed", sa.String(32), nullable=False),
        sa.Column("by", sa.String(80), nullable=False),
        sa.PrimaryKeyConstraint("version", name="pk_shop_opinions"),
    )


def downgrade() -> None:
    op.drop_table("shop_opinions")
