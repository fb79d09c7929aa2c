"""The words by which a thing is found: kept with it, in the same transaction; they can be made anew at any time."""

from sqlalchemy import Column, String, Table

from ..schema import metadata

WORD_LETTERS = 40
WORD = String(WORD_LETTERS).with_variant(String(WORD_LETTERS, collation="C"), "postgresql")  # by its letters' numbers

# `made`: when the thing was made (ISO time), so that of things with the same word the newest comes first.
found_words = Table(
    "found_words",
    metadata,
    Column("id", String(16), primary_key=True),
    Column("kind", String(16), primary_key=True),
    Column("word", WORD, primary_key=True),
    Column("made", String(32), nullable=False),
)
