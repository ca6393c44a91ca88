"""The benchmark: `python -m tests.bench` prints ratios of one run, which may be compared between machines."""
