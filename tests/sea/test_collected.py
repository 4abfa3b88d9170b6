"""The worker of a site in use, whose files are collected and have names that change with them."""

import json
import re

import pytest
from django.conf import settings
from django.core.management import call_command
from django.test import override_settings

from training.sea import worker


@pytest.fixture
def collected(tmp_path):
    """The site's own files, collected as on a site in use."""
    backend = "training.deck.scripts.Collected"
    storages = settings.STORAGES | {"staticfiles": {"BACKEND": backend}}
    with override_settings(STORAGES=storages, STATIC_ROOT=tmp_path):
        call_command("collectstatic", interactive=False, verbosity=0)
        yield tmp_path


def told(script, name):
    """Return what the site tells the worker as ``name``."""
    return json.loads(re.search(rf"^const {name} = (.*);$", script, re.MULTILINE)[1])


def test_the_worker_asks_for_files_by_the_names_they_were_collected_under(collected):
    script = worker.script()
    statics = told(script, "STATICS")
    assert told(script, "AT")["statics"] == "/static/"
    assert any(re.search(r"/sea_told\.[0-9a-f]{12}\.js$", each) for each in statics)
    for each in {*statics, *told(script, "CORE")}:
        if each.startswith("/static/"):
            assert (collected / each.removeprefix("/static/")).exists(), each
