"""How long it takes to import the rule module."""

import subprocess
import sys

AIM = 1 / 3  # seconds
RUNS = 5
PARTS = ["rigs.rules.judge", "rigs.check.entry", "rigs.tuning", "rigs.plan", "rigs.drawing.svg"]

TIMED = """
import importlib, sys, time
start = time.process_time()
importlib.import_module(sys.argv[1])
print(time.process_time() - start)
"""


def run():
    """Print for each part the least processor time that a fresh interpreter takes for it."""
    print(f"Seconds to import (aim: {AIM:.2f})")
    for name in PARTS:
        command = [sys.executable, "-c", TIMED, name]
        least = min(float(subprocess.check_output(command)) for _ in range(RUNS))
        print(f"  {name:18} {least:5.2f}")
