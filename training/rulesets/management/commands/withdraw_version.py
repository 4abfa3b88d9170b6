from django.core.management.base import BaseCommand, CommandError

from training.rulesets import withdrawing
from training.rulesets.drafting import DraftError
from training.rulesets.models import Version


class Command(BaseCommand):
    help = (
        "Agrees to withdraw an approved version of a rule set, for an office in which no second "
        "person can do it on the site in time. One of the staff asks for it there first."
    )

    def add_arguments(self, parser):
        parser.add_argument("name", help="the rule set, as the page of the version has it")
        parser.add_argument("version", help="the number of the version")

    def handle(self, *, name, version, **options):
        found = Version.objects.filter(name=name, version=version).first()
        asked = found and withdrawing.waiting(found)
        if not asked:
            raise CommandError(f"Nobody asks to withdraw {name}, version {version}.")
        try:
            withdrawing.agree(asked, None)
        except DraftError as error:
            raise CommandError(str(error)) from error
        self.stdout.write(f"{found} is withdrawn, as {asked.by} asked: {asked.reason}")
