from django.core.management.base import BaseCommand

from training.privacy.erasure import forget_expired


class Command(BaseCommand):
    help = (
        "Takes the names of people who deleted their account off certificates that have run out. "
        "Run it every day."
    )

    def handle(self, **options):
        self.stdout.write(f"{forget_expired()} names taken off.")
