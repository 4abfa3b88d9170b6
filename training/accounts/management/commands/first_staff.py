from django.conf import settings
from django.core.exceptions import ValidationError
from django.core.management.base import BaseCommand, CommandError

from training.accounts import first
from training.accounts.tokens import DAYS


class Command(BaseCommand):
    help = (
        "Makes the account of the site's first administrator and mails them a link to set their "
        "password. Run it again to send another link. All others are invited on the site."
    )

    def add_arguments(self, parser):
        parser.add_argument("email", help="where the link is mailed; they sign in with it")
        parser.add_argument("name", help="the name of the administrator, in quotes")
        parser.add_argument(
            "--another",
            action="store_true",
            help="even if there is an administrator, such as when none can sign in any more",
        )

    def handle(self, *, email, name, another, **options):
        if not settings.SITE_ADDRESS:
            raise CommandError("Set SITE_ADDRESS first: the link leads there.")
        try:
            person = first.invite(email, name, settings.SITE_ADDRESS, another)
        except first.NotFirst as error:
            raise CommandError(f"{error} With --another you can make one all the same.") from error
        except ValidationError as error:
            raise CommandError(" ".join(error.messages)) from error
        except OSError as error:
            raise CommandError(
                f"The account is there, but the email could not be sent ({error}). "
                "Check EMAIL_HOST and run this again."
            ) from error
        where = f"mailed to {person.email}" if settings.EMAIL_HOST else "printed above"
        self.stdout.write(f"The link to set a password is {where}. It holds {DAYS} days.")
