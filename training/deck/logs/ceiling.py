"""How many mails about failures may go out an hour, counted across the processes of a machine."""

import fcntl
import hashlib
import json
import os
import tempfile
import time
from contextlib import contextmanager
from pathlib import Path
from typing import NamedTuple

HOUSE = Path(__file__).resolve().parents[3]


class Leave(NamedTuple):
    """That a mail may go out: how many failures ``held`` back before, and if it is the ``last``."""

    held: int
    last: bool


def folder():
    """Return a folder of this site and this user alone, in the machine's place for such."""
    mark = hashlib.sha256(str(HOUSE).encode()).hexdigest()[:8]
    path = Path(tempfile.gettempdir()) / f"training-{os.getuid()}-{mark}"
    path.mkdir(mode=0o700, exist_ok=True)
    if path.is_symlink() or path.stat().st_uid != os.getuid():
        raise PermissionError(path)
    return path


class Ceiling:
    """
    At most ``most`` mails an hour, and one for each kind of failure.

    The count is a small file: a database may be just what is broken. Where no file can be
    written, each process counts for itself.
    """

    def __init__(self, most, path=None):
        self.most, self.path = most, path
        self._own = {}

    def ask(self, kind, now=None):
        """Count a failure of ``kind``; return Leave to mail it, or None."""
        hour = int((time.time() if now is None else now) // 3600)
        with self._state() as state:
            if state.get("hour") != hour:
                state.update(hour=hour, kinds=[], held=state.get("held", 0))
            if kind in state["kinds"] or len(state["kinds"]) >= self.most:
                state["held"] += 1
                return None
            state["kinds"].append(kind)
            held, state["held"] = state["held"], 0
            return Leave(held, len(state["kinds"]) >= self.most)

    @contextmanager
    def _state(self):
        try:
            path = self.path or folder() / "mails"
            opened = os.open(path, os.O_RDWR | os.O_CREAT | os.O_NOFOLLOW, 0o600)
        except OSError:
            yield self._own
            return
        with open(opened, "r+") as file:
            fcntl.flock(file, fcntl.LOCK_EX)
            try:
                state = json.load(file)
            except ValueError:
                state = {}
            yield state
            file.seek(0)
            file.truncate()
            json.dump(state, file)
