from django.core.management.base import BaseCommand, CommandError

from training.recall import memory


class Command(BaseCommand):
    help = (
        "Works out again what each person remembers of each rule, from all that was answered. "
        "Needed after a restore, and after answers were put in by other ways than the site."
    )

    def handle(self, *args, **options):
        try:
            memory.rebuild_all(self.stdout.write)
        except KeyboardInterrupt:
            raise CommandError(
                "Stopped. What was worked out so far stays, and the rest is as it was."
            ) from None
        self.stdout.write("What everybody remembers is worked out again.")
