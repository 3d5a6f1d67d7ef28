"""One's own times of a day, and how they are put right."""
