"""
Queries and the processor's time of lessons and of handing in, beside a bare view in the same run.

The bare view stands behind the same middleware and sign-in and shows the base of every page,
with nothing on it, so that the ratio is what the page itself costs.
"""

import statistics
import time

from django.contrib.auth.decorators import login_required
from django.db import connection
from django.shortcuts import render
from django.test import Client, override_settings
from django.test.utils import (
    CaptureQueriesContext,
    setup_databases,
    setup_test_environment,
    teardown_databases,
)
from django.urls import path, reverse

from training.urls import urlpatterns as site

ROUNDS = 60
QUERIES = 10  # aim
HAND_IN_QUERIES = 14  # aim; the sums that staff read are kept as well
LESSON_RATIO = 2  # aim
HAND_IN_RATIO = 4  # aim


@login_required
def bare(request):
    return render(request, "base.html")


urlpatterns = [*site, path("bare/", bare)]


def _timed(call):
    """Return the processor's seconds that ``call`` takes, SQLite's too, and its answer."""
    start = time.process_time()
    response = call()
    return time.process_time() - start, response


def _queries(call):
    with CaptureQueriesContext(connection) as queries:
        call()
    return len(queries)


def _report(name, times, bare_times, queries, aim, most=QUERIES):
    own = statistics.median(times)
    ratio = own / statistics.median(bare_times)
    print(
        f"  {name:28} {queries:3d} queries (aim: {most})  median {own * 1000:6.2f} ms  "
        f"{ratio:5.2f} times a bare view (aim: {aim})"
    )


def _measure():
    from training.exercises import handing, kinds
    from training.exercises.kinds.space_droppers import answer_at
    from training.lessons.loader import all_lessons
    from training.people.models import User

    user = User.objects.create_user("bench@example.com", None, name="Bench")
    client = Client()
    client.force_login(user)
    kind = kinds.get("space-droppers")
    url = reverse("exercises:do", args=[kind.slug])

    def hand_in():
        assignment = handing.open_assignment(user, kind)
        answer = answer_at(handing.task_of(assignment).fewest)
        data = {"assignment": assignment.pk, **answer, "center": "on"}

        def call():
            response = client.post(url, data)
            assert response.status_code == 302
            return response

        return call

    pages = [reverse("lessons:detail", args=[lesson.slug]) for lesson in all_lessons()]
    pages.append(url)
    client.get("/bare/")
    handed = _timed(hand_in())[1]
    shown = [*pages, handed.url, reverse("home")]
    times = {page: [] for page in shown}
    bare_times, hand_in_times = [], []
    for page in shown:
        client.get(page)
    # In turn, so that a slow spell of the machine falls on all alike.
    for _ in range(ROUNDS):
        bare_times.append(_timed(lambda: client.get("/bare/"))[0])
        for page in shown:
            taken, response = _timed(lambda page=page: client.get(page))
            assert response.status_code == 200, page
            times[page].append(taken)
        hand_in_times.append(_timed(hand_in())[0])

    print("Pages, signed in as a trainee")
    print(f"  {'bare view':28}             median {statistics.median(bare_times) * 1000:6.2f} ms")
    for page in shown:
        queries = _queries(lambda page=page: client.get(page))
        _report(page[:28], times[page], bare_times, queries, LESSON_RATIO)
    queries = _queries(hand_in())
    _report("hand-in", hand_in_times, bare_times, queries, HAND_IN_RATIO, HAND_IN_QUERIES)


def run():
    """Print queries, median time and ratio for each page, on a database of its own."""
    setup_test_environment()
    old = setup_databases(verbosity=0, interactive=False)
    try:
        with override_settings(ROOT_URLCONF=__name__):
            _measure()
    finally:
        teardown_databases(old, verbosity=0)
