"""The order of work: what to start first so that waiting costs nothing, and why each task stands where it does."""







