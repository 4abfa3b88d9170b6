from django.core.management.base import BaseCommand, CommandError

from training.accounts import keeping
from training.people.models import User


class Command(BaseCommand):
    help = (
        "Closes an account, such as that of staff which somebody else uses, for an office in "
        "which no second person can agree to it on the site in time. The person is mailed. Staff "
        "open it again on the site; manage.py first_staff makes an administrator if none is left."
    )

    def add_arguments(self, parser):
        parser.add_argument("email", help="the email by which the person signs in")

    def handle(self, *, email, **options):
        person = User.objects.filter(email=email.strip().lower(), is_active=True).first()
        if person is None:
            raise CommandError(f"No open account has the email {email}.")
        keeping.close(person)
        self.stdout.write(f"{person.email} is closed and signed out everywhere.")
