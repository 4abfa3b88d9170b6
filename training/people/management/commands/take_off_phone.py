from django.core.management.base import BaseCommand, CommandError

from training.people.factors import has, resetting
from training.people.models import User


class Command(BaseCommand):
    help = (
        "Takes the phone that makes sign-in codes off an account, for an office in which no two "
        "others can do it on the site. The person is mailed."
    )

    def add_arguments(self, parser):
        parser.add_argument("email", help="the email by which the person signs in")

    def handle(self, *, email, **options):
        person = User.objects.filter(email=email.strip().lower(), is_active=True).first()
        if person is None:
            raise CommandError(f"No open account has the email {email}.")
        if not has(person):
            raise CommandError(f"{person.email} has no sign-in codes.")
        resetting.take_off(person, None)
        self.stdout.write(f"The password alone signs {person.email} in now.")
