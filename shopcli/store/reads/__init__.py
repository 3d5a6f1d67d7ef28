"""The read side: SQL text into frozen rows, shaped for who looks at them."""
