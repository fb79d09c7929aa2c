"""Papers for the bench."""
