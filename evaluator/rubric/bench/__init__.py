"""What the bench measures beside the looks: the facts of rubrics/bench.yaml."""
