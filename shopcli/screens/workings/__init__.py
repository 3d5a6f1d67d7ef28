"""The workshop sums at hand: a form made from the description of a sum, its answer beside it while it is typed."""
