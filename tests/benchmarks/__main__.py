"""
Run benchmarks: ``python -m tests.benchmarks``, all of them or those that are named.

``fleet`` takes the sizes of the fleets to make, in percent of the largest, a folder in which to
keep them for the next time, and the names of the pages to look at, as their addresses have them.
"""

import argparse
import os
import subprocess
import sys

import django

os.environ.setdefault("DJANGO_SETTINGS_MODULE", "training.settings")
os.environ["SITE_DEMO"] = "1"
os.environ["SECRET_KEY"] = "for benchmarks only, and for nothing else than benchmarks"
django.setup()

from tests.benchmarks import importing, judging, pages  # noqa: E402
from tests.benchmarks.fleet import timing  # noqa: E402

parser = argparse.ArgumentParser(prog="python -m tests.benchmarks", description=__doc__)
parser.add_argument(
    "part", nargs="*", choices=["importing", "judging", "pages", "fleet", "slow_link", []]
)
parser.add_argument("--share", nargs="+", type=int, default=timing.SHARES, metavar="PERCENT")
parser.add_argument("--folder", help="where fleets are kept; thrown away if left out")
parser.add_argument("--pages", nargs="+", default=(), metavar="NAME", help="all if left out")
chosen = parser.parse_args()

parts = {
    "importing": importing.run,
    "judging": judging.run,
    "pages": pages.run,
    # It serves a site of its own, with settings of its own.
    "slow_link": lambda: subprocess.run([sys.executable, "-m", "tests.benchmarks.slow_link"]),
    "fleet": lambda: timing.run(chosen.share, chosen.folder, chosen.pages),
}
for name in chosen.part or parts:
    parts[name]()
