"""Waiting for what another process or thread does."""

import time


def wait_for(what, seconds=120):
    """Wait until ``what()`` is true; it is no matter how long that takes, within reason."""
    until = time.monotonic() + seconds
    while not what():
        assert time.monotonic() < until, "nothing happened"
        time.sleep(0.05)
