"""The letters in a person's story."""

from django.urls import reverse
from django.utils.translation import gettext as _

from training.deck import story
from training.people import sight

from .models import Letter, LetterTo

State = LetterTo.State


@story.PERSON.teller
def letters(person, user):
    """Tell of each letter that went to ``person`` or failed to, by email or as a text message."""
    rows = person.letters_received.filter(state__in=(State.SENT, State.FAILED))
    seen = sight.rows(Letter.objects.all(), user).values("pk")
    for row in rows.filter(letter__in=seen).select_related("letter__by"):
        yield story.Telling(
            row.settled or row.letter.made,
            story.Kind.LETTER,
            _words(row),
            reverse("letters:letter", args=[row.letter_id]),
        )


def _words(row):
    letter = row.letter
    if row.state == State.FAILED:
        return _("Letter “{subject}” was not sent: the mail server refused the address.").format(
            subject=row.subject
        )
    if not letter.by_email:
        return _("{by} texted: “{text}”").format(by=letter.by or _("Somebody"), text=row.text)
    if letter.by is None:
        return _("The site sent “{subject}”.").format(subject=row.subject)
    return _("{by} wrote “{subject}”.").format(by=letter.by, subject=row.subject)
