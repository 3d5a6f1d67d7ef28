"""One file a change of schema, in order."""
