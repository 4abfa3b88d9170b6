"""Run every benchmark: ``python -m tests.benchmarks``."""

import os

import django

os.environ.setdefault("DJANGO_SETTINGS_MODULE", "training.settings")
os.environ["SITE_DEMO"] = "1"
os.environ["SECRET_KEY"] = "for benchmarks only, and for nothing else than benchmarks"
django.setup()

from . import judging, pages  # noqa: E402

judging.run()
pages.run()
