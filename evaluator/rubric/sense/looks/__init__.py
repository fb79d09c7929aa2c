"""Sense of the looks that a rubric asks for: whether they are safe."""
