"""
The rule module stands below Django and knows nothing of it, and is quick to import.

Which of its packages stands below which is in ``.importlinter``.
"""

import pkgutil
import subprocess
import sys
from pathlib import Path

import pytest

import rigs

EVERY = [module.name for module in pkgutil.walk_packages(rigs.__path__, "rigs.")]
JUDGE = ["rigs.rules.judge", "rigs.rules.openings", "rigs.requirements"]
CHECK = ["rigs.check.steps", "rigs.check.sheet", "rigs.check.entry"]

IMPORT_ALL = """
import importlib, sys
sys.modules["django"] = None
for name in sys.argv[1:]:
    importlib.import_module(name)
print(*sys.modules)
"""


def loaded_with(names):
    """Return the names of all modules that are loaded once ``names`` are, without Django."""
    run = subprocess.run(
        [sys.executable, "-c", IMPORT_ALL, *names],
        capture_output=True,
        text=True,
        cwd=Path(rigs.__path__[0]).parent,
    )
    assert run.returncode == 0, run.stderr
    return set(run.stdout.split())


def test_the_rule_module_imports_without_django_and_without_what_is_slow_to_load():
    assert {*JUDGE, *CHECK, "rigs.physics.tow.shape", "rigs.plan.steps"} <= set(EVERY)
    loaded = loaded_with(EVERY)
    assert set(EVERY) <= loaded
    assert not {"scipy", "numpy.testing", "shapely"} & loaded


@pytest.mark.parametrize("names", [JUDGE, CHECK], ids=["judge", "check"])
def test_judging_and_checking_load_no_arrays(names):
    assert not {"scipy", "numpy", "shapely"} & loaded_with(names)
