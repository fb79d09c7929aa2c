"""Bills of agreed work, credit notes and receipts: each numbered, and never changed once given."""
