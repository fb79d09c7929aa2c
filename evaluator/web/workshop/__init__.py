"""The workshop's days: its own figures, the quote as it changes it, bills, customers, the board."""
