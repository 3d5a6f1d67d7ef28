"""What leaves the shop on paper. Papers take finished view-models only and reckon nothing but check sums."""
