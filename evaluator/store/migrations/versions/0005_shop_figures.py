"""The shop's own figures, every version."""

import sqlalchemy as sa
from alembic import op

revision = "0005"
down_revision = "0004"
branch_labels = None
depends_on = None


def upgrade() -> None:
    op.create_table(
        "shop_figures",
        sa.Column("version", sa.Integer, autoincrement=False, nullable=False),
        sa.Column("text", sa.Text, nullable=False),
        sa.Column("changed", sa.String(32), nullable=False),
        sa.Column("by", sa.String(80), nullable=False),
        sa.PrimaryKeyConstraint("version", name="pk_shop_figures"),
    )


def downgrade() -> None:
    op.drop_table("shop_figures")
