"""The desk station."""
