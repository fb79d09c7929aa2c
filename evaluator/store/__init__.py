"""What is kept: evaluations as they were typed, and the results of finished ones. Computes no figure."""
