from django.conf import settings
from django.core.management.base import BaseCommand, CommandError

from training.demo.load import RealPeople, load


class Command(BaseCommand):
    help = "Fills the demo's database with an invented fleet, once."

    def handle(self, *args, **options):
        if not settings.SITE_DEMO:
            raise CommandError(
                "Everybody in the demo data has the same known password, so they go into a "
                "demo site only. Set SITE_DEMO=1 if this is one."
            )
        self.stdout.write("Making up a fleet and two seasons of training ...")
        try:
            made = load(say=self.stdout.write)
        except RealPeople as error:
            raise CommandError(
                "This database holds people already, and the demo's known passwords do not "
                "belong beside them. Use an empty database."
            ) from error
        self.stdout.write("  Done." if made else "  It is there already.")
