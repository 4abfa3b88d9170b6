"""Run the crowd: ``python -m tests.load``; on another database by ``DATABASE_URL``."""

import argparse
import csv
import json
import os
import subprocess
import sys
from pathlib import Path
from tempfile import TemporaryDirectory

from tests.load import proof, site

parser = argparse.ArgumentParser(prog="python -m tests.load", description=__doc__)
parser.add_argument("--people", type=int, default=500)
parser.add_argument("--seconds", type=int, default=300)
parser.add_argument("--port", type=int, default=8099)
chosen = parser.parse_args()


def crowd_comes(folder, port, people):
    """Let so many ``people`` come for a while; return the exit code."""
    command = [
        *(sys.executable, "-m", "locust", "-f", str(Path(__file__).parent / "people.py")),
        *("--headless", "--only-summary", "--host", f"http://127.0.0.1:{port}"),
        *("-u", str(people), "-r", str(max(1, people // 30))),
        *("-t", f"{chosen.seconds}s", "--stop-timeout", "30", "--csv", str(folder / "load")),
    ]
    told = {"LOAD_PEOPLE": str(folder / "people"), "LOAD_LEDGER": str(folder / "ledger")}
    return subprocess.run(command, cwd=site.HERE, env=os.environ | told).returncode


def report(folder):
    """Print requests, errors and 99th percentiles; return how many requests failed."""
    with open(folder / "load_stats.csv") as file:
        rows = list(csv.DictReader(file))
    print(f"{'':42}{'requests':>9}{'failed':>8}{'median':>8}{'99 %':>8}  ms")
    for row in rows:
        print(
            f"{row['Name'][:40]:42}{row['Request Count']:>9}{row['Failure Count']:>8}"
            f"{float(row['Median Response Time']):>8.0f}{float(row['99%']):>8.0f}"
        )
    return int(rows[-1]["Failure Count"])


def main(folder):
    site.make(folder)
    world = site.crowd(chosen.people)
    pks = [each["pk"] for people in world["people"].values() for each in people]
    site.write(folder / "people", world)
    with site.served(chosen.port) as process:
        ended = crowd_comes(folder, chosen.port, len(pks))
        for own, whole in site.memory(process):
            print(f"A worker: {whole:.0f} MB, {own:.0f} with its share of what is shared")
    failed = report(folder)
    parted = list(proof.differences(json.loads((folder / "ledger").read_text()), pks))
    print(*parted or ["Nothing lost, nothing doubled, the sums agree."], sep="\n")
    return 1 if ended or failed or parted else 0


with TemporaryDirectory() as folder:
    sys.exit(main(Path(folder)))
