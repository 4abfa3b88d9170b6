from django.core.management.base import BaseCommand, CommandError

from training.register.deriving import derive_all


class Command(BaseCommand):
    help = (
        "Records the stages of vessels that the site knows of by itself: crew signed up, "
        "certificates, shared nets, check sheets. The site does so at once; this catches up "
        "after a restore or an import of vessels."
    )

    def handle(self, *args, **options):
        self.stdout.write("Looking at the vessels ...")
        try:
            recorded = derive_all(say=self.stdout.write)
        except KeyboardInterrupt:
            raise CommandError("Stopped. What was recorded so far stays.") from None
        self.stdout.write(f"{recorded} new events are recorded.")
