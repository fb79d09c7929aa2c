"""Bills, credit notes, receipts and their numbers. What was given cannot be rewritten."""

import sqlalchemy as sa
from alembic import op

revision = "0007"
down_revision = "0006"
branch_labels = None
depends_on = None

KEPT = ("bills", "payments")
SAID = {"bills": "a bill once given is never changed", "payments": "a receipt once given is never changed"}


def upgrade() -> None:
    op.create_table(
        "number_series",
        sa.Column("name", sa.String(80), nullable=False),
        sa.Column("last", sa.Integer, nullable=False),
        sa.PrimaryKeyConstraint("name", name="pk_number_series"),
    )
    op.create_table(
        "bills",
        sa.Column("id", sa.String(16), nullable=False),
        sa.Column("number", sa.String(80), nullable=False),
        sa.Column("quote", sa.String(16), nullable=False),
        sa.Column("kind", sa.String(16), nullable=False),
        sa.Column("corrects", sa.String(80)),
        sa.Column("made", sa.String(32), nullable=False),
        sa.Column("record", sa.JSON, nullable=False),
        sa.PrimaryKeyConstraint("id", name="pk_bills"),
        sa.UniqueConstraint("number", name="uq_bills_number"),
        sa.ForeignKeyConstraint(["quote"], ["quotes.id"], name="fk_bills_quote_quotes"),
    )
    op.create_table(
        "payments",
        sa.Column("id", sa.String(16), nullable=False),
        sa.Column("number", sa.String(80), nullable=False),
        sa.Column("quote", sa.String(16), nullable=False),
        sa.Column("made", sa.String(32), nullable=False),
        sa.Column("record", sa.JSON, nullable=False),
        sa.PrimaryKeyConstraint("id", name="pk_payments"),
        sa.UniqueConstraint("number", name="uq_payments_number"),
        sa.ForeignKeyConstraint(["quote"], ["quotes.id"], name="fk_payments_quote_quotes"),
    )
    for table in KEPT:
        op.create_index(f"ix_{table}_quote", table, ["quote"])
    _guard()


def _guard() -> None:
    on_file = op.get_bind().dialect.name == "sqlite"
    for table in KEPT:
        for when, name in (("UPDATE", f"{table}_stay"), ("DELETE", f"{table}_kept")):
            if on_file:
                raised = f"BEGIN SELECT RAISE(ABORT, '{SAID[table]}'); END"
                op.execute(f"CREATE TRIGGER {name} BEFORE {when} ON {table} {raised}")
                continue
            raised = f"RAISE EXCEPTION '{SAID[table]}' USING ERRCODE = 'integrity_constraint_violation';"
            op.execute(f"CREATE FUNCTION {name}() RETURNS trigger LANGUAGE plpgsql AS $$ BEGIN {raised} END $$")
            op.execute(f"CREATE TRIGGER {name} BEFORE {when} ON {table} FOR EACH ROW EXECUTE FUNCTION {name}()")


def downgrade() -> None:
    on_file = op.get_bind().dialect.name == "sqlite"
    names = [f"{table}_{what}" for table in KEPT for what in ("stay", "kept")]
    if on_file:
        for name in names:
            op.execute(f"DROP TRIGGER {name}")
    for table in (*KEPT, "number_series"):
        op.drop_table(table)
    if not on_file:
        for name in names:
            op.execute(f"DROP FUNCTION {name}")
