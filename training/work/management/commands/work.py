from django.core.management.base import BaseCommand

from training.work.worker import Hands


class Command(BaseCommand):
    help = (
        "Does the long work that pages ask for, and what is to be done each day. Let it run "
        "beside the site, once or more often. SIGTERM and Ctrl-C stop it between two steps; "
        "what it was at goes on when it runs again."
    )

    def add_arguments(self, parser):
        parser.add_argument("--batch", action="store_true", help="end when nothing waits any more")
        parser.add_argument(
            "--no-daily",
            action="store_true",
            help="leave out what is to be done each day: a scheduler does it",
        )

    def handle(self, *, batch, no_daily, **options):
        hands = Hands(with_daily=not (no_daily or batch), batch=batch)
        hands.configure_signals()
        hands.work()
