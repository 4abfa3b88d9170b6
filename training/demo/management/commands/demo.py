import threading
from contextlib import contextmanager

from django.core.management import call_command
from django.core.management.base import BaseCommand

from training.demo import scenario
from training.work.worker import Hands

ADDRESS = "127.0.0.1:8000"
SECONDS = 10  # that a worker has to finish the step it is at


@contextmanager
def _worker():
    """
    Have a worker do the long work meanwhile, in a thread of this process.

    What is done each day is left out: nobody here has mail to be written to.
    """
    hands = Hands(with_daily=False)
    thread = threading.Thread(target=hands.work, name="worker", daemon=True)
    thread.start()
    try:
        yield
    finally:
        hands.leave()
        thread.join(timeout=SECONDS)


class Command(BaseCommand):
    help = "Sets up the demo site with an invented fleet, prints its logins and serves it."
    # What is looked at here may not exist before the migrations have run.
    requires_system_checks = []

    def add_arguments(self, parser):
        parser.add_argument(
            "address", nargs="?", default=ADDRESS, help=f"where to serve it; {ADDRESS} if left out"
        )

    def handle(self, *args, address, **options):
        try:
            self.stdout.write("Making the database ready ...")
            call_command("migrate", verbosity=0, interactive=False)
            call_command("demo_data", stdout=self.stdout)
            self._tell_logins(address)
            with _worker():
                call_command("runserver", address, use_reloader=False)
        except KeyboardInterrupt:
            self.stdout.write("\nStopped. What was begun and not finished has been left out.")

    def _tell_logins(self, address):
        place = f"127.0.0.1:{address}" if address.isdecimal() else address
        code = scenario.group_code(scenario.HARBOURS[0])
        lines = ["", f"Open http://{place}/ and sign in as", ""]
        lines += [f"  {each.role:<8} {each.email}" for each in scenario.LOGINS.values()]
        lines += [
            "",
            f"The password is the same for all: {scenario.PASSWORD}",
            f"To sign up as somebody new, use the group code {code}.",
            "Everyone in there is invented. Ctrl-C stops the site.",
            "",
        ]
        self.stdout.write("\n".join(lines))
