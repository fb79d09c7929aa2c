"""What the shop's desk keeps: tokens of programs, offers, stock."""
