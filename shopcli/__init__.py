"""A job-card runner for a small classic-car shop."""

__version__ = "0.1.0"
