"""A new requirement is one class and its line in a rule set: nothing else names it."""

import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).parents[2]


def test_one_class_and_a_line_are_enough():
    done = subprocess.run(
        [sys.executable, "-m", "tests.rigs.new_requirement"],
        cwd=ROOT,
        capture_output=True,
        text=True,
        check=False,
    )
    assert not done.returncode, done.stderr
