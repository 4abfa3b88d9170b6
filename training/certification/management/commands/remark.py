from django.core.management.base import BaseCommand, CommandError

from training.certification.audit import everything

EVERY = 200  # records between two lines of progress


class Command(BaseCommand):
    help = (
        "Grades every attempt, exam and set of readings again from its seed, answer and rule "
        "set, and reports any difference. Changes nothing, and may be stopped at any time."
    )

    def handle(self, *args, **options):
        total, checks = everything()
        done = differing = 0
        self.stdout.write(f"Grading {total} records again ...")
        try:
            for done, differences in enumerate(checks, 1):
                differing += bool(differences)
                for each in differences:
                    self.stdout.write(f"  {each.where}: {each.what}")
                if done % EVERY == 0:
                    self.stdout.write(f"  {done} of {total} done, {differing} differ.")
        except KeyboardInterrupt:
            raise CommandError(
                f"Stopped after {done} of {total} records, {differing} of which differ. "
                "Nothing was changed.",
                returncode=130,
            ) from None
        if differing:
            raise CommandError(f"{differing} of {done} records do not come out as they were given.")
        self.stdout.write(f"All {done} records come out as they were given.")
