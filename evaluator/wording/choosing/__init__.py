"""What is told of several instruments, and of one that is taken in: plain JSON values with their sentences."""
