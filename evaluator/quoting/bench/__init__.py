"""What is read at the bench and kept with the work order."""
