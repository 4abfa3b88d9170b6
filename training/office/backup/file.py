"""The file of a backup: a tar archive with a list of what is in it, and a checksum of each part."""

import gzip
import hashlib
import io
import json
import os
import tarfile
import tempfile
from contextlib import contextmanager, suppress
from pathlib import Path

from django.utils.translation import gettext as _

FORM = 1
"""Which form of backup this code writes, and the latest it reads."""
LIST = "list.json"
KEYS = "keys.json"
_PIECE = 2**20


class NotWhole(Exception):
    """A file that is no backup, or one of which a part is missing or changed."""


def _sum_of(file):
    found = hashlib.sha256()
    while piece := file.read(_PIECE):
        found.update(piece)
    return found.hexdigest()


class Writer:
    """
    Writes a backup to ``path``. It has its name only once it is whole; until then ``.part``.

    Nobody but its owner can read it: it holds all that people told the site, and the keys.
    """

    def __init__(self, path):
        self.path = Path(path)
        self.part = self.path.with_name(self.path.name + ".part")
        opened = os.open(self.part, os.O_CREAT | os.O_EXCL | os.O_WRONLY, 0o600)
        self._file = os.fdopen(opened, "wb")
        self._tar = tarfile.TarFile(fileobj=self._file, mode="w")
        self.sums = {}

    def add(self, name, file, size):
        """Add the binary ``file`` of ``size`` bytes as the part ``name``."""
        told = tarfile.TarInfo(name)
        told.size, told.mode = size, 0o600
        summing = _Summing(file)
        self._tar.addfile(told, summing)
        self.sums[name] = summing.sum.hexdigest()

    def add_bytes(self, name, data):
        self.add(name, io.BytesIO(data), len(data))

    @contextmanager
    def lines(self, name):
        """Yield a text file for a ``with`` block; what was written to it becomes ``name``."""
        with tempfile.TemporaryFile(dir=self.part.parent) as file:
            with gzip.open(file, "wt", encoding="utf-8", compresslevel=5) as packed:
                yield packed
            size = file.tell()
            file.seek(0)
            self.add(name, file, size)

    def close(self, about):
        """Add the list of all parts with ``about``, and give the file its name."""
        self.add_bytes(LIST, json.dumps(about | {"form": FORM, "sums": self.sums}).encode())
        self._tar.close()
        self._file.flush()
        os.fsync(self._file.fileno())
        self._file.close()

    def settle(self):
        """Give the file its name."""
        os.replace(self.part, self.path)
        folder = os.open(self.path.parent, os.O_RDONLY)
        try:
            os.fsync(folder)
        finally:
            os.close(folder)

    def drop(self):
        """Take away what was written, after something went wrong."""
        # First, for closing writes what is left, and on a full disk that fails again.
        self.part.unlink(missing_ok=True)
        with suppress(OSError):
            self._file.close()


class _Summing:
    """A file that is read once, and the sum of what was read."""

    def __init__(self, file):
        self._file, self.sum = file, hashlib.sha256()

    def read(self, size=-1):
        piece = self._file.read(size)
        self.sum.update(piece)
        return piece


class Reader:
    """Reads the backup at ``path``; raises NotWhole if it is none or of a later form."""

    def __init__(self, path):
        try:
            self._tar = tarfile.TarFile(path)
            self.about = json.load(self._tar.extractfile(LIST))
            self._sums = self.about.pop("sums")
            form = self.about["form"]
        except (OSError, tarfile.TarError, KeyError, ValueError, TypeError) as error:
            raise NotWhole(_("{path} is no whole backup.").format(path=path)) from error
        if form > FORM:
            raise NotWhole(_("This backup is of a later form than this code reads."))

    def check(self):
        """Read all of it; raise NotWhole naming the first part that is not as it was written."""
        try:
            there = {each.name: each for each in self._tar.getmembers()}
            if odd := set(there) ^ {*self._sums, LIST}:
                raise NotWhole(_("{name} is missing, or too many.").format(name=min(odd)))
            for name, known in self._sums.items():
                if _sum_of(self._tar.extractfile(there[name])) != known:
                    raise NotWhole(_("{name} was changed or is damaged.").format(name=name))
        except (OSError, tarfile.TarError) as error:
            raise NotWhole(_("The backup cannot be read to its end.")) from error

    def names(self, folder):
        """Return the names of the parts in ``folder``, without it."""
        start = f"{folder}/"
        return [each.removeprefix(start) for each in self._sums if each.startswith(start)]

    def open(self, name):
        """Return the part ``name`` as a binary file."""
        return self._tar.extractfile(name)

    def sum_of(self, name):
        """Return the checksum that the part ``name`` had when it was written."""
        return self._sums[name]

    def lines(self, name):
        """Yield the lines of the packed part ``name``."""
        with gzip.open(self.open(name), "rt", encoding="utf-8", newline="\n") as file:
            yield from file

    @property
    def keys(self):
        """The keys in it, as {name of the setting: text}."""
        return json.load(self.open(KEYS))

    def close(self):
        self._tar.close()
