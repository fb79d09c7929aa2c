"""Found by the beginnings of words, listed page by page: as quickly among fifty thousand as among a hundred."""
