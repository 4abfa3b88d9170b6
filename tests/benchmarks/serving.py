"""
How gunicorn serves the site here: ``python -m tests.benchmarks.serving``.

It prints pages a second, a new worker's first page and each worker's memory.

It serves the demo with as many workers as there are cores; who asks runs on the same cores.
"""

import http.client
import os
import statistics
import time
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path
from tempfile import TemporaryDirectory

from tests.load import site

PORT = 8098
SECONDS = 8  # a page is asked for
ASKING = 8  # at once
PAGES = (
    ("lesson", "trainee", "/lessons/droppers/"),
    ("exercise", "trainee", "/exercises/space-droppers/"),
    ("first page of a trainee", "trainee", "/"),
    ("first page of staff", "staff", "/"),
    ("calls", "staff", "/desk/calls/"),
    ("vessels", "staff", "/register/vessels/"),
)


def run():
    """Print pages a second, the time to a new worker's first page and each worker's memory."""
    with TemporaryDirectory() as folder:
        site.make(Path(folder))
        people = site.crowd(12)["people"]
        workers = os.cpu_count()
        with site.served(PORT, workers) as process:
            print(f"Served by {workers} workers on as many cores")
            first = _time(people["trainee"][0], PAGES[0][2])
            print(f"  {'a first page of a worker':28} {first * 1000:8.1f} ms (aim: 300)")
            for name, sort, path in PAGES:
                count, times = _asked(people[sort][0], path)
                print(
                    f"  {name:28} {count / SECONDS:8.1f} a second, "
                    f"median {statistics.median(times) * 1000:6.1f} ms"
                )
            for own, whole in site.memory(process):
                print(f"  a worker: {whole:.0f} MB, {own:.0f} with its share of what is shared")


def _time(who, path):
    start = time.perf_counter()
    _get(http.client.HTTPConnection("127.0.0.1", PORT), who, path)
    return time.perf_counter() - start


def _get(connection, who, path):
    connection.request("GET", path, headers={"Cookie": f"sessionid={who['session']}"})
    response = connection.getresponse()
    response.read()
    if response.status != 200:
        raise RuntimeError(f"{path} answered {response.status}.")


def _asked(who, path):
    """Return how often ``path`` was answered in SECONDS, and how long each took."""
    until = time.perf_counter() + SECONDS

    def ask(_):
        connection, times = http.client.HTTPConnection("127.0.0.1", PORT), []
        while time.perf_counter() < until:
            start = time.perf_counter()
            _get(connection, who, path)
            times.append(time.perf_counter() - start)
        return times

    with ThreadPoolExecutor(ASKING) as pool:
        times = [each for some in pool.map(ask, range(ASKING)) for each in some]
    return len(times), times


if __name__ == "__main__":
    run()
