"""The pins: each with hashes, all that is needed among them, each with a license that was read."""

import re
import subprocess
import sys
from importlib import metadata
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]
SERVER = ("requirements.txt", "training/photos.txt")
PIN = re.compile(
    r"^([A-Za-z0-9._-]+)(?:\[[a-z0-9,]+\])?==(\S+)((?: \\\n    --hash=sha256:\w{64})*)$", re.M
)


def canonical(name):
    return re.sub(r"[-_.]+", "-", name).lower()


def pins(*files):
    """Return what ``files`` pin, as {name: (version, hashes)}."""
    texts = [(ROOT / file).read_text("utf-8") for file in files]
    return {
        canonical(name): (version, re.findall(r"sha256:(\w+)", hashes))
        for text in texts
        for name, version, hashes in PIN.findall(text)
    }


@pytest.mark.parametrize("file", [*SERVER, "tests/requirements.txt"])
def test_nothing_is_asked_for_but_by_version_and_hash(file):
    lines = (ROOT / file).read_text("utf-8").splitlines()
    other = [line for line in lines if line and not line.startswith(("#", "-r ", "    --hash="))]
    found = pins(file)
    assert len(other) == len(found)
    assert all(hashes for __, hashes in found.values())


def needs(name):
    """Return the names of what the library ``name`` needs here, without its extras."""
    for line in metadata.requires(name) or ():
        wanted, __, marker = line.partition(";")
        # Markers are of extras, of other systems or of other versions of Python.
        if not marker:
            yield canonical(re.match(r"[A-Za-z0-9._-]+", wanted)[0])


@pytest.mark.parametrize("files", [SERVER[:1], SERVER])
def test_all_that_a_server_installs_is_pinned_as_it_is_tested(files):
    found = pins(*files)
    assert {name: metadata.version(name) for name in found} == {
        name: version for name, (version, __) in found.items()
    }
    missing = {needed for name in found for needed in needs(name)} - set(found)
    assert missing == set()


def test_each_library_has_a_license_that_was_read():
    done = subprocess.run(
        [sys.executable, ".ci/licenses", "--check"], cwd=ROOT, capture_output=True, text=True
    )
    assert done.returncode == 0, done.stdout + done.stderr
