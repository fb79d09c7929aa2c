"""A draft as its workshop changes it: every change is kept by itself, so each can be taken back."""
