"""Benchmarks: figures side by side with a bare reference in the same run. Run ``python -m tests.speed``."""
