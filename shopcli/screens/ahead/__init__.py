"""Looking ahead: what a card will cost and when it will be ready, what jobs would; offers and their answers."""
