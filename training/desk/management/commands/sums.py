from itertools import chain

from django.core.management.base import BaseCommand, CommandError

from training.desk import sums
from training.register import uptake


class Command(BaseCommand):
    help = (
        "Recounts all totals on staff pages from the records, or only compares them. Needed after "
        "a restore, after lessons were added or removed, and after records were put in by "
        "other ways than the site."
    )

    def add_arguments(self, parser):
        parser.add_argument(
            "--check",
            action="store_true",
            help="count, compare and change nothing; ends with status 1 if anything differs",
        )

    def handle(self, *args, check, **options):
        try:
            if check:
                self._check()
            else:
                self._rebuild()
        except KeyboardInterrupt:
            raise CommandError(
                "Stopped. What was counted so far stays, and the rest is as it was."
            ) from None

    def _rebuild(self):
        self.stdout.write("People and groups ...")
        sums.rebuild(say=self.stdout.write)
        self.stdout.write("Vessels ...")
        uptake.rebuild(say=self.stdout.write)
        self.stdout.write("All sums have been counted again.")

    def _check(self):
        number = 0
        for sentence in chain(sums.differences(say=self.stdout.write), uptake.check()):
            self.stdout.write(sentence)
            number += 1
        if number:
            raise CommandError(f"{number} differences. Run this without --check to fix them.")
        self.stdout.write("All sums are as a full recount has them.")
