import pytest

from tests.calibration.round_factory import make_officers, make_round


@pytest.fixture
def others(db):
    """Three more officers."""
    return make_officers(3)


@pytest.fixture
def round_(officer, others):
    """A round for ``officer`` and the others, not begun."""
    return make_round([officer, *others])


@pytest.fixture
def turn(round_, officer):
    """The officer's own turn in it."""
    return round_.turns.get(officer=officer)
