"""The table of evaluations."""

import sqlalchemy as sa
from alembic import op

revision = "0001"
down_revision = None
branch_labels = None
depends_on = None


def upgrade() -> None:
    op.create_table(
        "evaluations",
        sa.Column("id", sa.String(16), nullable=False),
        sa.Column("version", sa.Integer, nullable=False),
        sa.Column("title", sa.String(400), nullable=False),
        sa.Column("rubric", sa.String(60), nullable=False),
        sa.Column("state", sa.String(16), nullable=False),
        sa.Column("created", sa.String(32), nullable=False),
        sa.Column("changed", sa.String(32), nullable=False),
        sa.Column("typed", sa.JSON, nullable=False),
        sa.Column("snapshot", sa.JSON),
        sa.Column("rubric_hash", sa.String(64)),
        sa.Column("made_from", sa.String(16)),
        sa.PrimaryKeyConstraint("id", name="pk_evaluations"),
    )


def downgrade() -> None:
    op.drop_table("evaluations")
