"""What is asked and answered of a line of a quote."""

import sqlalchemy as sa
from alembic import op

revision = "0012"
down_revision = "0011"
branch_labels = None
depends_on = None


def upgrade() -> None:
    op.create_table(
        "remarks",
        sa.Column("id", sa.String(16), nullable=False),
        sa.Column("quote", sa.String(16), nullable=False),
        sa.Column("job", sa.String(80), nullable=False),
        sa.Column("text", sa.String(1000), nullable=False),
        sa.Column("by", sa.String(80), nullable=False),
        sa.Column("ours", sa.Integer, nullable=False),
        sa.Column("at", sa.String(32), nullable=False),
        sa.PrimaryKeyConstraint("id", name="pk_remarks"),
        sa.ForeignKeyConstraint(["quote"], ["quotes.id"], name="fk_remarks_quote_quotes"),
    )
    op.create_index("ix_remarks_quote", "remarks", ["quote"])


def downgrade() -> None:
    op.drop_table("remarks")
