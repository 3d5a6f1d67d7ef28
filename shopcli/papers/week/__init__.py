"""The owner's week told: one report, built once from the views and shown by screen, papers, exports and shell alike."""
