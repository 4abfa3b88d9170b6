"""Processor's time and queries of every staff page at several sizes of the fleet."""

import gc
import statistics
import time
from pathlib import Path
from tempfile import TemporaryDirectory

from django.core.management import call_command
from django.db import connection
from django.test import Client
from django.test.utils import (
    CaptureQueriesContext,
    setup_test_environment,
    teardown_test_environment,
)

SHARES = (1, 10)  # percent; all of it takes some ten gigabytes and a quarter of an hour
ROUNDS = 5


def run(shares=SHARES, folder=None, pages=()):
    """
    Print time and queries of each staff page at ``shares``, in percent of the largest fleet.

    The fleets are made in ``folder`` and kept there for the next time; in a folder that is
    thrown away if it is None. Of ``pages``, names of addresses, alone if any are given.
    """
    with TemporaryDirectory() as thrown_away:
        kept = Path(folder or thrown_away)
        kept.mkdir(parents=True, exist_ok=True)
        setup_test_environment()
        old = connection.settings_dict["NAME"]
        try:
            paths = {share: kept / f"fleet-{share}.sqlite3" for share in shares}
            _print({share: _measure(share, path, pages) for share, path in paths.items()})
        finally:
            _use(old)
            teardown_test_environment()


def _use(name):
    connection.close()
    connection.settings_dict["NAME"] = str(name)


def _measure(share, path, pages):
    """Return {name of a page: (seconds, queries)}, making the fleet in ``path`` if need be."""
    print(f"  {share} percent of the largest fleet")
    if not path.exists():
        begun = path.with_suffix(".begun")
        begun.unlink(missing_ok=True)
        _use(begun)
        start = time.perf_counter()
        _make(share)
        connection.close()
        begun.rename(path)
        print(f"    made in {time.perf_counter() - start:,.0f} s", flush=True)
    _use(path)
    # One that was kept may be of an earlier day's tables.
    call_command("migrate", verbosity=0)
    return _pages(pages)


def _make(share):
    from tests.benchmarks.fleet.making import Fleet

    call_command("migrate", verbosity=0)
    Fleet(share, lambda line: print(line, flush=True)).make()


def _pages(only):
    from tests.desk.staff_pages import staff_pages
    from training.people.models import Role, User

    staff, _ = User.objects.get_or_create(
        email="staff@example.com",
        defaults={"name": "Staff", "role": Role.STAFF, "whole_fleet": True},
    )
    client = Client()
    client.force_login(staff)
    # As ``training.serving`` does: what is there already is not looked at as garbage.
    gc.collect()
    gc.freeze()
    return {
        name: _timed(client, path)
        for name, path in staff_pages().items()
        if not only or name in only
    }


def _timed(client, path):
    def call():
        response = client.get(path)
        # 302: a file so large that it is left to the worker of long work.
        assert response.status_code in (200, 302), f"{path} answered {response.status_code}"
        # What is sent row by row is not read before it is sent.
        return sum(map(len, response))

    with CaptureQueriesContext(connection) as captured:
        call()
    # Counted now: the next request empties the list.
    queries, times = len(captured), []
    for _ in range(ROUNDS):
        start = time.process_time()
        call()
        times.append(time.process_time() - start)
    return statistics.median(times), queries


def _print(found):
    shares = list(found)
    print(f"Staff pages: median of {ROUNDS}, ms of the processor, and queries")
    head = "".join(f"{f'{share} %':>18}" for share in shares)
    print(f"  {'':24}{head}{'ratio':>10}")
    for name in found[shares[0]]:
        cells = [found[share][name] for share in shares]
        told = "".join(f"{seconds * 1000:11,.1f} ({queries:3d})" for seconds, queries in cells)
        print(f"  {name:24}{told}{cells[-1][0] / cells[0][0]:10.1f}")
