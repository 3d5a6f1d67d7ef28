"""The order of work of a card: what is done when and by whom, what drains meanwhile, and wishes for another order."""
