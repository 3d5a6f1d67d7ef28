"""The edge between what people type or read and the values that are stored."""
