from django.conf import settings
from django.core.management.base import BaseCommand, CommandError

from training.interchange.pushing import push
from training.interchange.store import NotNow, Shut, Store


class Command(BaseCommand):
    help = (
        "Sends what is new in the learning record to the record store set by XAPI_ENDPOINT. "
        "Run it as often as you like: each statement is kept once. Ctrl-C stops it without harm."
    )

    def handle(self, **options):
        if not settings.XAPI_ENDPOINT:
            raise CommandError("Set XAPI_ENDPOINT to the address of the record store.")
        if not settings.SITE_ADDRESS:
            raise CommandError("Set SITE_ADDRESS: statements are named by it.")
        store = Store(settings.XAPI_ENDPOINT, settings.XAPI_USER, settings.XAPI_PASSWORD)
        try:
            sent = push(store, settings.SITE_ADDRESS, say=self.stdout.write)
        except NotNow as trouble:
            raise CommandError(f"The store is away: {trouble}. The rest is for later.") from None
        except Shut as trouble:
            raise CommandError(f"The store does not let this site in: {trouble}.") from None
        except KeyboardInterrupt:
            raise CommandError("Stopped. The rest is for the next run.") from None
        self.stdout.write(f"{sent} sent.")
