"""The page of people: who works here, what they may do, and their PINs."""
