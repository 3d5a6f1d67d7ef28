"""Generated examples are not timed here: a busy machine is no fault of a sum, and speed has a test of its own."""

from hypothesis import settings

settings.register_profile("untimed", deadline=None)
settings.load_profile("untimed")
