import pytest

from training.deck import readiness


@pytest.fixture(autouse=True)
def look_again():
    """Have each test look for itself, and not find what the one before found."""
    readiness.look_again()
    yield
    readiness.look_again()
