"""How long the season's report takes: ``python -m tests.benchmarks.prints``."""

import statistics
import time
from pathlib import Path
from tempfile import TemporaryDirectory

from tests.load import site

ROUNDS = 9
AIM = 0.2  # seconds, for both


def run():
    """Print the medians of gathering the demo's season report and of making its PDF."""
    with TemporaryDirectory() as folder:
        site.make(Path(folder))
        _measure()


def _measure():
    from django.utils import timezone

    from training.desk.season import dates, printed
    from training.desk.season.gathering import gather
    from training.people.models import Role, User

    today = timezone.localdate()
    nobody = User(pk=0, role=Role.STAFF, whole_fleet=True)
    season = dates.latest(today)
    gathering, printing = [], []
    for __ in range(ROUNDS):
        start = time.process_time()
        report = gather(nobody, season, today)
        gathering.append(time.process_time() - start)
        start = time.process_time()
        printed.as_pdf(report)
        printing.append(time.process_time() - start)
    both = statistics.median(map(sum, zip(gathering, printing, strict=True)))
    print(
        f"Season report: gathered in {statistics.median(gathering):.3f} s, printed in "
        f"{statistics.median(printing):.3f} s, both {both:.3f} s (aim: {AIM})"
    )


if __name__ == "__main__":
    run()
