"""A shop's year in figures, from what it kept: pure sums over results, orders, offers and stock."""
