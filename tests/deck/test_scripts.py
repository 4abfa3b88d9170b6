"""A page asks at once for all that its scripts import, and by the names that they have there."""

import re
from shutil import copytree

import pytest
from django.conf import settings
from django.template import Context, Template

from training.deck import scripts
from training.deck.scripts import Collected, imported

JS = settings.BASE_DIR / "training" / "static" / "js"


def rendered(tag):
    return Template("{% load scripts %}{% " + tag + " %}").render(Context())


def test_what_is_imported_is_found_however_deep_and_once():
    found = imported("js/leave.js")
    assert "js/check_outbox.js" in found  # by itself
    assert "js/sending.js" in found  # by what it imports
    assert len(found) == len(set(found))
    assert all((JS.parent / name).exists() for name in found)


def test_each_is_asked_for_once_in_the_order_that_they_run_in():
    page = rendered('scripts "js/draft.js" "js/outbox.js"')
    asked = re.findall(r'<link rel="modulepreload" href="/static/([^"]+)">', page)
    run = re.findall(r'<script type="module" src="/static/([^"]+)"></script>', page)
    assert run == ["js/draft.js", "js/outbox.js"]
    assert set(asked) | set(run) == {*imported("js/draft.js", "js/outbox.js"), *run}
    assert len(asked) == len(set(asked) - set(run))


def test_what_may_wait_holds_up_nothing():
    page = rendered('scripts_after "js/leave.js"')
    assert 'src="/static/js/leave.js" async fetchpriority="low"' in page


@pytest.mark.parametrize("name", ["leave.js", "check_phone.js"])
def test_collected_scripts_import_by_names_that_change_with_the_file(tmp_path, name):
    copytree(JS, tmp_path / "js")
    storage = Collected(location=tmp_path, base_url="/static/")
    paths = {f"js/{path.name}": (storage, f"js/{path.name}") for path in JS.iterdir()}
    for each in storage.post_process(paths):
        assert not isinstance(each[2], Exception)
    text = storage.open(storage.stored_name(f"js/{name}")).read().decode()
    found = re.findall(r'from "\./([^"]+)"', text)
    assert len(found) == len(re.findall(r'from "\./', scripts.source(f"js/{name}")))
    for each in found:
        assert re.fullmatch(r"\w+\.[0-9a-f]{12}\.js", each)
        assert (tmp_path / "js" / each).exists()
