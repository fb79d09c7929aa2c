"""The application that those outside the shop meet, and what it has in common with the shop's."""
