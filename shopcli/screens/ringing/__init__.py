"""Whom to ring: one list, a key that notes the call."""
