"""What a workshop keeps of its days: its figures, quotes as it changed them, bills, customers and their instruments."""
