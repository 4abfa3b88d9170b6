"""
How gunicorn serves the site: ``gunicorn --config python:training.serving``.

The site is read and warmed up once, before the workers part from it: a new worker answers its
first page at once, and they share what they do not change. What the command line says goes
before what stands here; ``WEB_CONCURRENCY`` is gunicorn's own variable for how many workers.
"""

import gc

wsgi_app = "training.wsgi"
worker_class = "gthread"
threads = 4
preload_app = True
# A worker that has grown makes room for a new one; not all at once.
max_requests = 20_000
max_requests_jitter = 2_000
timeout = 60  # seconds
# Whose pages are asked for most: what staff open now and then would only take memory.
WARM = ("site", "deck", "home", "lessons", "exercises")
logger_class = "training.deck.logs.server.Lines"


def when_ready(server):
    """Warm up before the first worker parts; what is there then is never looked at as garbage."""
    server.log.info("Warmed up with %d templates", warm_up())
    gc.collect()
    gc.freeze()


def warm_up():
    """Make what pages keep once it is made; return how many templates are among it."""
    # Only now: gunicorn reads its settings before the site is set up.
    from django.conf import settings
    from django.db import connections
    from django.template.loader import get_template
    from django.urls import get_resolver

    from rigs.rules import rulebook
    from training.lessons.loader import all_lessons
    from training.trying import passing

    get_resolver().reverse("home")
    rulebook.everything()
    all_lessons()
    passing.shown(passing.HeightForm())
    folder = settings.BASE_DIR / "templates"
    files = [path for room in WARM for path in (folder / room).rglob("*.html")]
    names = ["base.html", *(path.relative_to(folder).as_posix() for path in files)]
    for name in names:
        get_template(name)
    # No worker may speak over a connection that another has too.
    connections.close_all()
    return len(names)
