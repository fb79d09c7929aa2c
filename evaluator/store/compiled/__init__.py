"""What was worked out of files before, kept in the user's cache folder: safe to delete at any time."""
