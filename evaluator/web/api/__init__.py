"""HTTP JSON for other programs, under /api/1/: operations told once, served and described from the same types."""
