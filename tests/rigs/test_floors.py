"""The rule module stands below Django and knows nothing of it."""

import pkgutil
import subprocess
import sys
from pathlib import Path

import rigs

# The other half of the package: saved nets, and their pages.
WITH_DJANGO = {
    "apps",
    "check_access",
    "check_demo",
    "check_forms",
    "check_keeping",
    "check_models",
    "check_phone_views",
    "check_photos",
    "check_urls",
    "check_views",
    "fields",
    "forms",
    "log_forms",
    "log_views",
    "migrations",
    "models",
    "shine_log",
    "templatetags",
    "trip_forms",
    "trip_views",
    "urls",
    "views",
}

IMPORT_ALL = """
import importlib, sys
sys.modules["django"] = None
for name in sys.argv[1:]:
    importlib.import_module(name)
"""


def test_the_rule_module_imports_without_django():
    names = [
        module.name
        for module in pkgutil.walk_packages(rigs.__path__, "rigs.")
        if module.name.split(".")[1] not in WITH_DJANGO
    ]
    assert {
        "rigs.rules.judge",
        "rigs.requirements.layout",
        "rigs.physics.tow.shape",
        "rigs.plan.steps",
    } <= set(names)
    run = subprocess.run(
        [sys.executable, "-c", IMPORT_ALL, *names],
        capture_output=True,
        text=True,
        cwd=Path(rigs.__path__[0]).parent,
    )
    assert run.returncode == 0, run.stderr
