"""Who may come in: people, their sessions, one-time codes, links for guests; and who did what."""

import sqlalchemy as sa
from alembic import op

revision = "0004"
down_revision = "0003"
branch_labels = None
depends_on = None


def upgrade() -> None:
    op.create_table(
        "people",
        sa.Column("id", sa.String(16), nullable=False),
        sa.Column("name", sa.String(80), nullable=False),
        sa.Column("role", sa.String(16), nullable=False),
        sa.Column("password_hash", sa.String(200), nullable=False),
        sa.Column("made", sa.String(32), nullable=False),
        sa.Column("left", sa.String(32)),
        sa.PrimaryKeyConstraint("id", name="pk_people"),
        sa.UniqueConstraint("name", name="uq_people_name"),
    )
    op.create_table(
        "sessions",
        sa.Column("token_hash", sa.String(64), nullable=False),
        sa.Column("person", sa.String(16)),
        sa.Column("label", sa.String(80), nullable=False),
        sa.Column("role", sa.String(16), nullable=False),
        sa.Column("made", sa.String(32), nullable=False),
        sa.Column("ends", sa.String(32), nullable=False),
        sa.Column("withdrawn", sa.String(32)),
        sa.PrimaryKeyConstraint("token_hash", name="pk_sessions"),
        sa.ForeignKeyConstraint(["person"], ["people.id"], name="fk_sessions_person_people"),
    )
    op.create_table(
        "codes",
        sa.Column("code_hash", sa.String(64), nullable=False),
        sa.Column("role", sa.String(16), nullable=False),
        sa.Column("ends", sa.String(32), nullable=False),
        sa.Column("used", sa.String(32)),
        sa.PrimaryKeyConstraint("code_hash", name="pk_codes"),
    )
    op.create_table(
        "guest_links",
        sa.Column("token_hash", sa.String(64), nullable=False),
        sa.Column("evaluation", sa.String(16), nullable=False),
        sa.Column("looks", sa.JSON, nullable=False),
        sa.Column("label", sa.String(80), nullable=False),
        sa.Column("made", sa.String(32), nullable=False),
        sa.Column("ends", sa.String(32), nullable=False),
        sa.Column("withdrawn", sa.String(32)),
        sa.PrimaryKeyConstraint("token_hash", name="pk_guest_links"),
        sa.ForeignKeyConstraint(["evaluation"], ["evaluations.id"], name="fk_guest_links_evaluation_evaluations"),
    )
    op.create_index("ix_guest_links_evaluation", "guest_links", ["evaluation"])
    op.create_table(
        "deeds",
        sa.Column("id", sa.Integer, nullable=False),
        sa.Column("at", sa.String(32), nullable=False),
        sa.Column("who", sa.String(80), nullable=False),
        sa.Column("what", sa.String(80), nullable=False),
        sa.Column("about", sa.String(200), nullable=False),
        sa.PrimaryKeyConstraint("id", name="pk_deeds"),
    )


def downgrade() -> None:
    for table in ("deeds", "guest_links", "codes", "sessions", "people"):
        op.drop_table(table)
