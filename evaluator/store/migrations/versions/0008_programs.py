"""Tokens of programs, and what their requests with a key were answered with."""

import sqlalchemy as sa
from alembic import op

revision = "0008"
down_revision = "0007"
branch_labels = None
depends_on = None


def upgrade() -> None:
    op.create_table(
        "tokens",
        sa.Column("token_hash", sa.String(64), nullable=False),
        sa.Column("label", sa.String(80), nullable=False),
        sa.Column("scopes", sa.JSON, nullable=False),
        sa.Column("made", sa.String(32), nullable=False),
        sa.Column("ends", sa.String(32)),
        sa.Column("withdrawn", sa.String(32)),
        sa.Column("used", sa.String(10)),
        sa.PrimaryKeyConstraint("token_hash", name="pk_tokens"),
    )
    op.create_table(
        "answered",
        sa.Column("token_hash", sa.String(64), nullable=False),
        sa.Column("key", sa.String(100), nullable=False),
        sa.Column("asked", sa.String(64), nullable=False),
        sa.Column("made", sa.String(32), nullable=False),
        sa.Column("status", sa.Integer),
        sa.Column("body", sa.JSON),
        sa.Column("location", sa.String(200)),
        sa.PrimaryKeyConstraint("token_hash", "key", name="pk_answered"),
    )


def downgrade() -> None:
    op.drop_table("answered")
    op.drop_table("tokens")
