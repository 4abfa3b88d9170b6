"""What all tests share: how examples are drawn, and that what is quick comes first."""

import gc
import os
from pathlib import Path

import pytest
from hypothesis import settings

# How long an example takes says nothing about whether it is right.
settings.register_profile("untimed", deadline=None, derandomize=True)
settings.load_profile("untimed")

HERE = Path(__file__).resolve().parent
LAYERS = ("rigs", "", "browser")
"""Folders in the order in which their tests run; all others stand in the middle."""
TOGETHER = (
    "certification/test_expected.py",
    "certification/test_parallel_forms.py",
    "demo/test_demo.py",
    "exercises/test_read_shine.py",
    "people/test_roles.py",
    "rigs/flight/test_signs.py",
)
"""Files whose tests share what is slow to make: each of them runs on one worker."""


def _layer(item):
    folder = item.path.relative_to(HERE).parts[0]
    return LAYERS.index(folder if folder in LAYERS else "")


@pytest.hookimpl(trylast=True)
def pytest_collection_modifyitems(items):
    """Put the rule module's tests first and the browser's last."""
    items.sort(key=_layer)


def pytest_collection_finish():
    """
    Look for garbage seldom, and not among what was imported and collected.

    They are many and stay to the end: to go over them again and again was
    a fifth of the time where it was measured, among pages of the desk and of the home.
    """
    gc.collect()
    gc.freeze()
    gc.set_threshold(50_000, 20, 50)


@pytest.hookimpl(optionalhook=True)
def pytest_xdist_make_scheduler(config, log):
    """Give the tests to the workers one by one, and those of a file in TOGETHER as one."""
    from xdist.scheduler import LoadScopeScheduling

    class Scheduling(LoadScopeScheduling):
        def _split_scope(self, nodeid):
            file = nodeid.partition("::")[0]
            return file if file.endswith(TOGETHER) else nodeid

    return Scheduling(config, log)


@pytest.hookimpl(trylast=True)
def pytest_runtest_logreport(report):
    """Name a test that fails at once: the whole run takes minutes."""
    if report.failed and "PYTEST_XDIST_WORKER" not in os.environ:
        print(f"\nFAILED {report.nodeid}", flush=True)


@pytest.fixture
def few_cases(monkeypatch):
    """Draw few nets; ``rigs/flight`` tries how many it takes to say what is sure."""
    from rigs.physics.flight import cases
    from rigs.tuning import in_flight

    monkeypatch.setattr(cases, "COUNT", 4)
    in_flight.cases.cache_clear()
    yield
    in_flight.cases.cache_clear()
