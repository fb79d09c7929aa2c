"""The covering paragraph of an evaluation's papers."""

import sqlalchemy as sa
from alembic import op

revision = "0014"
down_revision = "0013"
branch_labels = None
depends_on = None


def upgrade() -> None:
    op.create_table(
        "coverings",
        sa.Column("evaluation", sa.String(16), nullable=False),
        sa.Column("text", sa.Text, nullable=False),
        sa.Column("version", sa.Integer, nullable=False),
        sa.Column("changed", sa.String(32), nullable=False),
        sa.Column("by", sa.String(80), nullable=False),
        sa.PrimaryKeyConstraint("evaluation", name="pk_coverings"),
        sa.ForeignKeyConstraint(["evaluation"], ["evaluations.id"], name="fk_coverings_evaluation_evaluations"),
    )


def downgrade() -> None:
    op.drop_table("coverings")
