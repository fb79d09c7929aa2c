"""Quotes and the chain of consents. What was offered, and every consent, cannot be rewritten."""

import sqlalchemy as sa
from alembic import op

revision = "0002"
down_revision = "0001"
branch_labels = None
depends_on = None

# On SQLite, by name of the trigger.
GUARDS = {
    "quotes_offered_stay": """
        BEFORE UPDATE OF record, number ON quotes WHEN OLD.state <> 'draft'
        BEGIN SELECT RAISE(ABORT, 'an offered quote is never edited'); END""",
    "quotes_offered_kept": """
        BEFORE DELETE ON quotes WHEN OLD.state <> 'draft'
        BEGIN SELECT RAISE(ABORT, 'an offered quote is kept'); END""",
    "consents_stay": """
        BEFORE UPDATE ON consents
        BEGIN SELECT RAISE(ABORT, 'a consent is never edited'); END""",
    "consents_kept": """
        BEFORE DELETE ON consents
        BEGIN SELECT RAISE(ABORT, 'a consent is kept'); END""",
}

# On PostgreSQL: the trigger, when it fires, and what it says. Its function bears its name.
SERVER_GUARDS = {
    "quotes_offered_stay": (
        "BEFORE UPDATE OF record, number ON quotes FOR EACH ROW WHEN (OLD.state <> 'draft')",
        "an offered quote is never edited",
    ),
    "quotes_offered_kept": (
        "BEFORE DELETE ON quotes FOR EACH ROW WHEN (OLD.state <> 'draft')",
        "an offered quote is kept",
    ),
    "consents_stay": ("BEFORE UPDATE ON consents FOR EACH ROW", "a consent is never edited"),
    "consents_kept": ("BEFORE DELETE ON consents FOR EACH ROW", "a consent is kept"),
}


def upgrade() -> None:
    op.create_table(
        "quotes",
        sa.Column("id", sa.String(16), nullable=False),
        sa.Column("number", sa.String(16), nullable=False),
        sa.Column("evaluation", sa.String(16), nullable=False),
        sa.Column("state", sa.String(16), nullable=False),
        sa.Column("token_hash", sa.String(64)),
        sa.Column("valid_until", sa.String(10), nullable=False),
        sa.Column("made", sa.String(32), nullable=False),
        sa.Column("changed", sa.String(32), nullable=False),
        sa.Column("record", sa.JSON, nullable=False),
        sa.Column("work", sa.JSON),
        sa.PrimaryKeyConstraint("id", name="pk_quotes"),
        sa.UniqueConstraint("number", name="uq_quotes_number"),
        sa.UniqueConstraint("token_hash", name="uq_quotes_token_hash"),
        sa.ForeignKeyConstraint(["evaluation"], ["evaluations.id"], name="fk_quotes_evaluation_evaluations"),
    )
    op.create_index("ix_quotes_evaluation", "quotes", ["evaluation"])
    op.create_table(
        "consents",
        sa.Column("quote", sa.String(16), nullable=False),
        sa.Column("place", sa.Integer, nullable=False),
        sa.Column("record", sa.JSON, nullable=False),
        sa.PrimaryKeyConstraint("quote", "place", name="pk_consents"),
        sa.ForeignKeyConstraint(["quote"], ["quotes.id"], name="fk_consents_quote_quotes"),
    )
    if op.get_bind().dialect.name == "sqlite":
        for name, body in GUARDS.items():
            op.execute(f"CREATE TRIGGER {name} {body}")
        return
    for name, (when, told) in SERVER_GUARDS.items():
        raised = f"RAISE EXCEPTION '{told}' USING ERRCODE = 'integrity_constraint_violation';"
        op.execute(f"CREATE FUNCTION {name}() RETURNS trigger LANGUAGE plpgsql AS $$ BEGIN {raised} END $$")
        op.execute(f"CREATE TRIGGER {name} {when} EXECUTE FUNCTION {name}()")


def downgrade() -> None:
    on_file = op.get_bind().dialect.name == "sqlite"
    if on_file:
        for name in GUARDS:
            op.execute(f"DROP TRIGGER {name}")
    op.drop_table("consents")
    op.drop_table("quotes")
    if not on_file:
        for name in SERVER_GUARDS:
            op.execute(f"DROP FUNCTION {name}")
