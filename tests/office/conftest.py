import pytest

from training.office import views


@pytest.fixture(autouse=True)
def look_again():
    """Have each test look for itself, and not find what the one before found."""
    views._findings.cache_clear()
