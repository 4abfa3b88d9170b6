"""What commands about one account have alike."""

from django.core.management.base import BaseCommand, CommandError
from django.utils.translation import gettext as _

from training.people.models import User


class OfPerson(BaseCommand):
    """A command about the open account of an email; ``do`` gets its person."""

    def add_arguments(self, parser):
        parser.add_argument("email", help=_("the email by which the person signs in"))

    def handle(self, *, email, **options):
        person = User.objects.filter(email=email.strip().lower(), is_active=True).first()
        if person is None:
            raise CommandError(_("No open account has the email {email}.").format(email=email))
        self.do(person)

    def do(self, person):
        """Do it to ``person``; raise CommandError if that cannot be."""
        raise NotImplementedError
