"""Who may come in, and what each may see: sign-in, codes for phones, links for guests."""
