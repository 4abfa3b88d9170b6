"""Whether people are certified today, and if not any more, since when and why: for staff."""

from datetime import date, datetime
from typing import NamedTuple

from django.db.models import OuterRef, Subquery
from django.utils import timezone
from django.utils.translation import gettext as _

from rigs.words.days import long_day
from rigs.words.say import gettext_lazy

from .models import Certificate, Correction

CERTIFIED, RAN_OUT, TAKEN_BACK, NEVER = "certified", "ran-out", "taken-back", "none"

# As in a table; what is kept or compared is the key.
WORDS = {
    CERTIFIED: gettext_lazy("certified"),
    RAN_OUT: gettext_lazy("certificate ran out"),
    TAKEN_BACK: gettext_lazy("certificate taken back"),
    NEVER: gettext_lazy("no certificate"),
}


class CertificateState(NamedTuple):
    """
    How it is with the certificates of one person.

    ``state`` is CERTIFIED, RAN_OUT, TAKEN_BACK or NEVER, ``day`` the last one that counts or
    counted, or that on which it was taken back; None for NEVER.
    """

    state: str
    day: date | None = None

    @property
    def words(self):
        """The same in a few words with its day."""
        if self.day is None:
            return _("no certificate")
        told = {
            CERTIFIED: _("certified until {day}"),
            RAN_OUT: _("certificate ran out on {day}"),
            TAKEN_BACK: _("certificate taken back on {day}"),
        }[self.state]
        return told.format(day=long_day(self.day))


class _One(NamedTuple):
    """A certificate: when it stops or stopped to count, and whether it was taken back."""

    ends: datetime
    taken_back: bool


def _told(certificates, now):
    valid = [each.ends for each in certificates if not each.taken_back and each.ends > now]
    if valid:
        return CertificateState(CERTIFIED, timezone.localdate(max(valid)))
    ended = max(certificates, key=lambda each: each.ends)
    state = TAKEN_BACK if ended.taken_back else RAN_OUT
    return CertificateState(state, timezone.localdate(ended.ends))


def certificate_states(pks, now=None):
    """
    Return the CertificateState of each person with one of the ``pks`` by it; in one query.

    Who holds one that counts is certified, whatever became of others. Of those that no longer
    count the last to end is told.
    """
    now = now or timezone.now()
    found = {}
    last = Correction.objects.filter(exam=OuterRef("exam")).order_by("-made", "-pk")
    rows = Certificate.objects.filter(exam__user__in=pks).order_by()
    for person, expires, revoked, passed, corrected in rows.values_list(
        "exam__user",
        "expires",
        "revocation__made",
        Subquery(last.values("passed")[:1]),
        Subquery(last.values("made")[:1]),
    ):
        back = revoked or (corrected if passed is False else None)
        # What had run out before it was taken back ran out.
        is_back = back is not None and back < expires
        found.setdefault(person, []).append(_One(back if is_back else expires, is_back))
    states = {pk: _told(certificates, now) for pk, certificates in found.items()}
    return {pk: states.get(pk, CertificateState(NEVER)) for pk in pks}
