"""What all tests share, and the order they run in."""

from hypothesis import settings

# How long an example takes says nothing about whether it is right.
settings.register_profile("untimed", deadline=None, derandomize=True)
settings.load_profile("untimed")
