"""The three stations in the terminal: Desk, Bench, Week. Thin: no SQL, no sums, no formatting here."""
