"""
The kinds of work that there are; each room brings its own.

A room writes a class below Kind and registers it with ``@kinds.kind`` in a module that its
app imports when the site starts.
"""

from django.utils.translation import gettext as _

_kinds = {}


class Kind:
    """
    One kind of work.

    ``slug`` names it for ever, ``at_once`` is up to how many parts it is done in the request
    that asks for it: what is short needs no worker and no waiting. ``makes_file`` says that
    a file is all that comes of it.
    """

    slug = ""
    at_once = 0
    makes_file = False

    def title(self, job):
        """Return what ``job`` is called, such as "Import of fleet.csv"."""
        raise NotImplementedError

    def may(self, user, job):
        """Return whether ``user`` may have ``job`` done and its file, as things are now."""
        return user.is_active and user.is_staff

    def matters(self, job):
        """Return whether who fetches the file has to show again who they are."""
        return False

    def work(self, run):
        """
        Do the work of ``run.job``, from where ``run.job.at`` says that it is.

        What is written is written in ``with run.step():``, which is a transaction of its own
        and keeps how far it came with it. Work that is killed is begun again by the same call.
        """
        raise NotImplementedError

    def said(self, job):
        """Return what came of ``job``, which is at its end, in a sentence."""
        return ""

    def leads_to(self, job):
        """Return the address of the page that shows what came of ``job``, "" for none."""
        return ""

    def asked(self, job):
        """Note that ``job`` was asked for; called in the transaction that makes it."""

    def stopped(self, job):
        """Settle what a stop leaves; called once in the transaction that notes the stop."""


def kind(cls):
    """Register a Kind; return it."""
    _kinds[cls.slug] = cls()
    return cls


def of(job):
    """Return the Kind of ``job``; one that is no longer known can be listed and no more."""
    return _kinds.get(job.kind) or Unknown()


class Unknown(Kind):
    """What a version before or after this one asked for."""

    def title(self, job):
        return _("Work of another version of this site")

    def work(self, run):
        raise LookupError(run.job.kind)
