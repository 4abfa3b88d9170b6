"""Mail about sessions and certificates: who wants it, how it is stopped, and how one is sent."""

from django.core import signing
from django.core.mail import EmailMessage
from django.template.loader import render_to_string
from django.urls import reverse

from .models import User

SALT = "people.wanting"


def stop(user):
    """Keep that ``user`` wants no mail about sessions and certificates."""
    user.wants_mail = False
    user.save(update_fields=["wants_mail"])


def stop_path(user):
    """Return the path at which ``user`` stops these mails without signing in."""
    return reverse("people:stop_mail", args=[signing.dumps(user.pk, salt=SALT)])


def user_of(token):
    """Return whose mails the ``token`` of a ``stop_path`` stops; None if it is not one."""
    try:
        pk = signing.loads(token, salt=SALT)
    except signing.BadSignature:
        return None
    return User.objects.filter(pk=pk, is_active=True).first()


def send(user, subject, text, address):
    """
    Mail ``text`` to ``user``, with how to stop such mails below; raise OSError if that fails.

    ``address`` is where the site is found. Whether the mail is wanted is the caller's to ask.
    """
    stops = address + stop_path(user)
    # How programs for mail offer to stop it (RFC 2369, RFC 8058).
    headers = {
        "List-Unsubscribe": f"<{stops}>",
        "List-Unsubscribe-Post": "List-Unsubscribe=One-Click",
    }
    body = render_to_string("people/mail.txt", {"text": text, "stop": stops})
    # A line break in a subject would start another header.
    EmailMessage(" ".join(subject.split()), body, to=[user.email], headers=headers).send()


def send_of_account(email, subject, text):
    """Mail ``text`` about an account to ``email``, which nothing stops; raise OSError."""
    EmailMessage(" ".join(subject.split()), text, to=[email]).send()
