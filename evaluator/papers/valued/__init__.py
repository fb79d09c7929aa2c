"""What known sales say of an instrument, and what a statement of value must say."""
