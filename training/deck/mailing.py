"""Mails that a command sends one by one, so that each run takes up where the last one stopped."""

from django.conf import settings
from django.core.management.base import CommandError
from django.utils.translation import gettext as _

# Where the demo serves itself.
LOCAL_ADDRESS = "http://127.0.0.1:8000"


def has_address():
    """Return whether it is known where mails lead to."""
    return bool(settings.SITE_ADDRESS or settings.LOCAL)


def site_address():
    """Return the address that mails lead to; raise CommandError if none is set."""
    address = settings.SITE_ADDRESS or (LOCAL_ADDRESS if settings.LOCAL else "")
    if not address:
        raise CommandError(_("Set SITE_ADDRESS: the mails lead to the site."))
    return address


def send_all(command, due, send, name_of):
    """
    Have ``send`` mail each of ``due``, and write on the Command ``command`` how far it is.

    ``send`` returns whether a mail went out, ``name_of`` what a failed one is called. Raise
    CommandError at the end if some could not be sent, or when Ctrl-C stops it between two.
    """
    sent = failed = 0
    try:
        for number, each in enumerate(due, 1):
            try:
                sent += send(each)
            except OSError as error:
                # The mail server's refusals and a line that is down are OSErrors.
                failed += 1
                command.stderr.write(
                    _("  {name_of}: not sent ({error})").format(name_of=name_of(each), error=error)
                )
            command.stdout.write(f"  {number} of {len(due)}")
    except KeyboardInterrupt:
        raise CommandError(
            _("Stopped. {sent} sent; the rest is for the next run.").format(sent=sent)
        ) from None
    command.stdout.write(_("{sent} sent, {failed} not.").format(sent=sent, failed=failed))
    if failed:
        raise CommandError(
            _("{failed} could not be sent. Run it again later.").format(failed=failed)
        )
