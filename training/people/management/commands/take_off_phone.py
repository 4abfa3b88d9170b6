from django.core.management.base import CommandError

from training.people.factors import has, resetting
from training.people.management.of_person import OfPerson


class Command(OfPerson):
    help = (
        "Takes the phone that makes sign-in codes off an account, for an office in which no two "
        "others can do it on the site. The person is mailed."
    )

    def do(self, person):
        if not has(person):
            raise CommandError(f"{person.email} has no sign-in codes.")
        resetting.take_off(person, None)
        self.stdout.write(f"The password alone signs {person.email} in now.")
