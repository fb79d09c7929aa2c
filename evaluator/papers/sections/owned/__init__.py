"""Papers to be filed and compared next year."""
