"""The changes that a workshop lays over a draft."""

import sqlalchemy as sa
from alembic import op

revision = "0006"
down_revision = "0005"
branch_labels = None
depends_on = None


def upgrade() -> None:
    op.create_table(
        "quote_bases",
        sa.Column("quote", sa.String(16), nullable=False),
        sa.Column("record", sa.JSON, nullable=False),
        sa.PrimaryKeyConstraint("quote", name="pk_quote_bases"),
        sa.ForeignKeyConstraint(["quote"], ["quotes.id"], name="fk_quote_bases_quote_quotes"),
    )
    op.create_table(
        "quote_changes",
        sa.Column("quote", sa.String(16), nullable=False),
        sa.Column("place", sa.Integer, nullable=False),
        sa.Column("record", sa.JSON, nullable=False),
        sa.PrimaryKeyConstraint("quote", "place", name="pk_quote_changes"),
        sa.ForeignKeyConstraint(["quote"], ["quotes.id"], name="fk_quote_changes_quote_quotes"),
    )


def downgrade() -> None:
    op.drop_table("quote_changes")
    op.drop_table("quote_bases")
