"""The shapes of what a luthier writes in YAML: `rubric.model` names them all."""
