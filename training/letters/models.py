"""What was written to whom, and the texts that letters begin from."""

from urllib.parse import quote

from django.conf import settings
from django.db import models
from django.db.models import Q
from django.utils import timezone
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from training.people import phones, sight
from training.people.models import Group, Session


@sight.rule(staff=sight.every)
class LetterText(models.Model):
    """
    A text as staff changed it or made it; the latest of a ``slug`` holds.

    Only ever added to. ``key`` comes with the form; ``is_gone`` takes it off the list.
    """

    key = models.UUIDField(unique=True, editable=False)
    slug = models.SlugField(max_length=60)
    title = models.CharField(max_length=80)
    subject = models.CharField(max_length=150)
    body = models.TextField(max_length=5000)
    brief = models.TextField(max_length=600, blank=True)
    is_gone = models.BooleanField(default=False)
    by = models.ForeignKey(settings.AUTH_USER_MODEL, models.SET_NULL, null=True, related_name="+")
    made = models.DateTimeField(default=timezone.now, editable=False)

    class Meta:
        ordering = ["made", "pk"]
        indexes = [models.Index(fields=["slug", "made"], name="letter_text_latest")]

    def __str__(self):
        return self.title


def letters_seen(queryset, user):
    """The rule: letters that the member of staff wrote, or that went to somebody in reach."""
    if sight.harbors_of(user) is None:
        return queryset
    received = sight.rows(LetterTo.objects.filter(letter=models.OuterRef("pk")), user)
    return queryset.filter(Q(by=user) | models.Exists(received))


@sight.rule(own="person", staff=letters_seen)
class Letter(models.Model):
    """
    One letter to one person or many, in the words that were sent, with their gaps.

    ``person`` is whom a letter to one alone went to: it goes when they have themselves
    erased. ``by`` is None where the site wrote by itself, and ``said`` is then what it told
    of a session. ``key`` comes with the form, or says what the site wrote about, so that
    nothing goes out twice.
    """

    class Purpose(models.TextChoices):
        LETTER = "letter", gettext_lazy("letter")
        SESSION = "session", gettext_lazy("about a session")
        CERTIFICATE = "certificate", gettext_lazy("a certificate that runs out")
        INVITATION = "invitation", gettext_lazy("invitation")

    class Means(models.TextChoices):
        EMAIL = "email", gettext_lazy("email")
        PHONE = "phone", gettext_lazy("text message")

    key = models.UUIDField(unique=True, editable=False)
    purpose = models.CharField(max_length=12, choices=Purpose, default=Purpose.LETTER)
    means = models.CharField(max_length=6, choices=Means, default=Means.EMAIL)
    subject = models.CharField(max_length=200, blank=True)
    body = models.TextField()
    group = models.ForeignKey(Group, models.SET_NULL, null=True, blank=True, related_name="+")
    session = models.ForeignKey(
        Session, models.SET_NULL, null=True, blank=True, related_name="letters"
    )
    said = models.CharField(max_length=200, blank=True, editable=False)
    person = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.CASCADE, null=True, blank=True, related_name="letters"
    )
    by = models.ForeignKey(settings.AUTH_USER_MODEL, models.SET_NULL, null=True, related_name="+")
    made = models.DateTimeField(default=timezone.now, editable=False, db_index=True)

    class Meta:
        ordering = ["-made", "-pk"]

    def __str__(self):
        return self.subject or self.get_means_display()

    @property
    def by_email(self):
        return self.means == self.Means.EMAIL

    @property
    def to(self):
        """Whom it is for, in words."""
        if self.person:
            return self.person.name
        return self.group.name if self.group else _("people chosen from the list")


@sight.rule(own="user", staff=sight.of_people("user"))
class LetterTo(models.Model):
    """
    A letter to one of the people it is for, as each of them reads it.

    ``sent`` says that the mail was handed over, or that staff said they had texted it; not
    that it arrived.
    """

    class State(models.TextChoices):
        WAITING = "waiting", gettext_lazy("waiting")
        SENT = "sent", gettext_lazy("sent")
        FAILED = "failed", gettext_lazy("not sent")
        LEFT_OUT = "left-out", gettext_lazy("left out")

    class Why(models.TextChoices):
        NONE = "", ""
        NO_MAIL = "no-mail", gettext_lazy("wants no email")
        CLOSED = "closed", gettext_lazy("account is closed")
        NO_PHONE = "no-phone", gettext_lazy("no number for text messages")
        REFUSED = "refused", gettext_lazy("the mail server refused the address")

    letter = models.ForeignKey(Letter, models.CASCADE, related_name="rows")
    user = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.CASCADE, related_name="letters_received"
    )
    subject = models.CharField(max_length=400, blank=True)
    text = models.TextField(blank=True)
    state = models.CharField(max_length=8, choices=State, default=State.WAITING)
    why = models.CharField(max_length=8, choices=Why, blank=True, default=Why.NONE)
    settled = models.DateTimeField(null=True, blank=True)

    class Meta:
        ordering = ["pk"]
        verbose_name_plural = gettext_lazy("letters received")
        constraints = [
            models.UniqueConstraint(fields=["letter", "user"], name="one_of_a_letter_each")
        ]
        indexes = [
            models.Index(fields=["letter"], condition=Q(state="waiting"), name="letters_that_wait")
        ]

    def __str__(self):
        return f"{self.letter} to {self.user}"

    @property
    def link(self):
        """The address that writes the text to the person's phone (RFC 5724); "" if none can."""
        number = phones.to_text(self.user.phone)
        return f"{number}?body={quote(self.text)}" if number else ""
