from django.core.management.base import BaseCommand, CommandError

from rigs.rules.rulebook import RulebookError
from training.rulesets import impact
from training.rulesets.models import Version

EVERY = 5.0  # seconds between two lines of progress


class Command(BaseCommand):
    help = (
        "Counts what a draft of a rule set would change for saved nets and past tasks, and "
        "keeps it with the draft. It may be stopped at any time and carries on where it was."
    )

    def add_arguments(self, parser):
        parser.add_argument("draft", type=int, help="number of the draft, as in its address")
        parser.add_argument("--anew", action="store_true", help="count again from the beginning")

    def handle(self, *args, draft, anew, **options):
        version = Version.objects.filter(pk=draft).first()
        if version is None:
            raise CommandError(f"There is no draft number {draft}.")
        try:
            self._count(version, anew)
        except RulebookError as error:
            raise CommandError(f"It cannot be counted: {error}") from error

    def _count(self, version, anew):
        counted = None if anew else impact.of_text(version)
        counted = counted or impact.begin(version)
        self.stdout.write(f"{version}: {counted.done} of {counted.total} looked at.")
        try:
            while counted.todo:
                counted = impact.carry_on(counted, EVERY)
                self.stdout.write(f"  {counted.done} of {counted.total} looked at.")
        except KeyboardInterrupt:
            raise CommandError(
                "Stopped. What was counted is kept; run it again to carry on.", returncode=130
            ) from None
        nets, tasks = counted.found["nets"], counted.found["tasks"]
        self.stdout.write(
            f"Nets that would newly break a rule: {counted.found[impact.AS_IS]['breaks']} as "
            f"they are, {counted.found[impact.PLANNED]['breaks']} as planned, of "
            f"{nets['judged']} that go by it."
        )
        self.stdout.write(
            f"Past tasks that would come out otherwise: {tasks['changed']} of "
            f"{tasks['looked_at']} looked at, {tasks['of']} in all."
        )
        for trouble in counted.troubles:
            self.stdout.write(f"In the way: {trouble}")
