from django.core.management.base import BaseCommand
from django.utils import timezone

from training.work import daily


class Command(BaseCommand):
    help = "Takes away files that long work made and that were kept long enough."

    def handle(self, **options):
        daily.clear_work(timezone.now())
