"""Pieces more than one station shows."""
