"""What is kept: evaluations as they were typed, and the snapshots of finished ones. Computes no figure."""
