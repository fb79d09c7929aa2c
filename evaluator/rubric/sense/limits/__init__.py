"""Sense of the limits that readings are held to: each row by itself, and beside its neighbours in size."""
