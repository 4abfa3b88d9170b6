from training.accounts import keeping
from training.people.management.of_person import OfPerson


class Command(OfPerson):
    help = (
        "Closes an account, such as that of staff which somebody else uses, for an office in "
        "which no second person can agree to it on the site in time. The person is mailed. Staff "
        "open it again on the site; manage.py first_staff makes an administrator if none is left."
    )

    def do(self, person):
        keeping.close(person)
        self.stdout.write(f"{person.email} is closed and signed out everywhere.")
