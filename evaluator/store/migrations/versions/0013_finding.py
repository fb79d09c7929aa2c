"""Lists and searches that stay quick: the words of things, and an index for each list."""

import sqlalchemy as sa
from alembic import op

from evaluator.store.finding.words import make_words_anew

revision = "0013"
down_revision = "0012"
branch_labels = None
depends_on = None

SORTED = {"evaluations": "title", "customers": "name"}
LED = {"": (), "rubric_": ("rubric",), "state_": ("state",), "rubric_state_": ("rubric", "state")}


def upgrade() -> None:
    word = sa.String(40).with_variant(sa.String(40, collation="C"), "postgresql")
    op.create_table(
        "found_words",
        sa.Column("id", sa.String(16), nullable=False),
        sa.Column("kind", sa.String(16), nullable=False),
        sa.Column("word", word, nullable=False),
        sa.Column("made", sa.String(32), nullable=False),
        sa.PrimaryKeyConstraint("id", "kind", "word", name="pk_found_words"),
    )
    op.create_index("ix_found_words_kind_word", "found_words", ["kind", "word", sa.text("made DESC"), "id"])
    for table, column in SORTED.items():
        op.add_column(table, sa.Column("sorted_as", sa.String(80), nullable=False, server_default=""))
        op.execute(f"UPDATE {table} SET sorted_as = lower(substr({column}, 1, 80))")
    for name, led in LED.items():
        op.create_index(f"ix_evaluations_{name}changed", "evaluations", [*led, "changed", "id"])
        op.create_index(f"ix_evaluations_{name}title", "evaluations", [*led, "sorted_as", "id"])
    op.create_index("ix_evaluations_made_from", "evaluations", ["made_from"])
    op.create_index("ix_customers_name", "customers", ["sorted_as", "id"])
    op.create_index("ix_instruments_customer_made", "instruments", ["customer", "made"])
    op.create_index("ix_quotes_state_made", "quotes", ["state", "made"])
    op.create_index("ix_quotes_state_changed", "quotes", ["state", "changed"])
    for table in ("bills", "offers", "stock"):
        op.create_index(f"ix_{table}_made", table, ["made", "number"])
    make_words_anew(op.get_bind())


def downgrade() -> None:
    for table in ("bills", "offers", "stock"):
        op.drop_index(f"ix_{table}_made", table)
    op.drop_index("ix_quotes_state_made", "quotes")
    op.drop_index("ix_quotes_state_changed", "quotes")
    op.drop_index("ix_instruments_customer_made", "instruments")
    op.drop_index("ix_customers_name", "customers")
    op.drop_index("ix_evaluations_made_from", "evaluations")
    for name in LED:
        op.drop_index(f"ix_evaluations_{name}changed", "evaluations")
        op.drop_index(f"ix_evaluations_{name}title", "evaluations")
    op.drop_table("found_words")
    for table in SORTED:
        op.drop_column(table, "sorted_as")
