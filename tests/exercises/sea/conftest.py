import shutil
from pathlib import Path

import pytest

from training.exercises import kinds
from training.exercises.sea import setting

SCRIPTS = Path(__file__).parents[3] / "training" / "static" / "js"


@pytest.fixture
def one_kind(monkeypatch):
    """A course with one kind of exercise."""
    kind = kinds.get("one-reading")
    monkeypatch.setattr(setting, "kinds_for", lambda user: [kind])
    return kind


@pytest.fixture(scope="session")
def scripts(tmp_path_factory):
    """A folder with the site's scripts, for Node.js."""
    assert shutil.which("node"), "These tests need Node.js: see the README."
    folder = tmp_path_factory.mktemp("scripts")
    for each in SCRIPTS.glob("*.js"):
        shutil.copy(each, folder)
    (folder / "package.json").write_text('{"type": "module"}')
    return folder
