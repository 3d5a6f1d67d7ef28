"""The week station."""
