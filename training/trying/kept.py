"""
What somebody without an account did here, kept in their session until they sign up or forget it.

Nothing in it says who they are: of a task what it is made from and the raw answer, of a net what
was entered. It goes when the session does.
"""

from datetime import timedelta

from django.utils.translation import gettext as _
from django.utils.translation import ngettext

_KEY = "tried"

MOST = 30
"""How many answers a session keeps. Whoever wants more signs up."""

LASTS = timedelta(days=14)
"""How long it is kept on after the last thing done."""


class Kept:
    """What is kept in ``session``: ``answers``, oldest first, and a ``net``, None if none."""

    def __init__(self, session):
        self._session = session
        held = session.get(_KEY) or {}
        self.answers = list(held.get("answers", ()))
        self.net = held.get("net")

    def __bool__(self):
        return bool(self.answers or self.net)

    @property
    def is_full(self):
        return len(self.answers) >= MOST

    @property
    def told(self):
        """How much is kept, in words."""
        count = len(self.answers)
        tasks = ngettext("{count} task", "{count} tasks", count).format(count=count)
        if not self.net:
            return tasks
        return _("{tasks} and a net").format(tasks=tasks) if count else _("a net")

    def has(self, recipe):
        """Return whether the task that ``recipe`` makes was answered."""
        return any(entry["task"] == recipe for entry in self.answers)

    def answer(self, recipe, answer):
        """
        Keep ``answer``, raw, to the task that ``recipe`` makes; return its number from 1.

        The first answer to a task stands.
        """
        for number, entry in enumerate(self.answers, 1):
            if entry["task"] == recipe:
                return number
        self.answers.append({"task": recipe, "answer": answer})
        self._save()
        return len(self.answers)

    def put_net(self, net):
        """Keep ``net``, what was entered of it, in place of the one before."""
        self.net = net
        self._save()

    def forget(self):
        """Keep nothing any more."""
        self.answers, self.net = [], None
        self._session.pop(_KEY, None)
        self._session.set_expiry(None)

    def _save(self):
        self._session[_KEY] = {"answers": self.answers, "net": self.net}
        self._session.set_expiry(LASTS)
