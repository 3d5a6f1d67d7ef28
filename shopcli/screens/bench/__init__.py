"""The bench station."""
