"""What a rubric may say: the shapes of checks, standards, causes and jobs as a luthier writes them in YAML.

These classes only hold and bound values; places, "did you mean" and sense across checks live in `files` and `sense`.
The JSON Schema for editors is made from them.
"""
