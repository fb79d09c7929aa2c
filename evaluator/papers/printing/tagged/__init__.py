"""Tags: what each mark on a page is, so that a program can read a paper aloud and in order."""
