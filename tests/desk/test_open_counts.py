"""Each count on a staff page opens a list of as many rows, for all staff alike."""

import csv
import html
import io
import random
import re
import uuid
from datetime import date, timedelta

import pytest
from django.urls import reverse
from django.utils import timezone

from tests.certification.certificate_factory import make_exam, make_requirements
from tests.desk.test_sums import practice_on
from tests.evidence.tows_factory import make_fisherman, make_pair
from tests.register.events_factory import happen, make_vessel, new_key
from tests.register.test_deriving import hand_in_sheet
from tests.site import make_officer
from training.certification import certificates
from training.deck.suppression import SMALLEST
from training.desk.calls.numbers import QUIET_DAYS
from training.desk.models import PersonRuleTally, PersonTally
from training.lessons.loader import all_lessons
from training.lessons.models import LessonRead
from training.letters.models import Letter, LetterTo
from training.people.models import Group, Membership, Reach, Role, User
from training.people.sharing import Level
from training.recall.models import AskedAgain
from training.register import events
from training.register.models import Crew, Vessel
from training.register.stages import Stage

pytestmark = pytest.mark.django_db

COUNT = re.compile(r'<a data-count="(\d+)" href="([^"]+)"')
ROWS = re.compile(r'data-rows="(\d+)"')


@pytest.fixture
def fleet(staff):
    """People and vessels of two harbors at all sorts of steps, some in two groups."""
    rng = random.Random(7)
    groups = [
        Group.objects.create(name=f"Crews {number}", harbor=f"Harbor {number % 2}")
        for number in range(3)
    ]
    requirements = make_requirements()
    checker = make_officer()
    today = timezone.localdate()
    for number in range(2 * SMALLEST + 2):
        role = Role.OFFICER if number % 5 == 4 else Role.TRAINEE
        person = User.objects.create_user(f"h{number}@example.com", None, name="H", role=role)
        for group in groups[: 1 + number % 3] if number % 2 else groups[number % 3 :]:
            Membership.objects.create(group=group, user=person)
        if number % 4:
            LessonRead.objects.note(person, all_lessons()[number % 3].slug)
            practice_on(person, skill=0.3, rng=rng)
        if number % 3 == 0:
            certificate = certificates.issue(make_exam(person, requirements))
            certificate.expires = timezone.now() + timedelta(days=-1 if number % 2 else 90)
            certificate.save()
        vessel = make_vessel(f"Tern {number}", f"Harbor {number % 2}", 40 + 5 * number)
        Crew.objects.create(vessel=vessel, user=person)
        for days in (40, 100 + 10 * number, 400):
            AskedAgain.objects.create(
                user=person,
                rulebook_name="no-sweep",
                key="dropper_spacing",
                days=days,
                right=number % 3 > 0,
                asked=timezone.now(),
            )
        if number % 2:
            typed = {"dropper_bare": "no"} if number % 3 else {}
            hand_in_sheet(checker, vessel.name, vessel.harbor, today, **typed)
        for days, stage in enumerate([Stage.TOLD, Stage.CONVERTED, Stage.BACK][: number % 4]):
            happen(vessel, stage, today - timedelta(days=90 - 20 * days))
    Vessel.objects.filter(name="Tern 2").update(is_fishing=False)
    # An entry that was withdrawn, and one put on another day: neither counts as it was.
    wrong = happen(make_vessel("Skua", "Harbor 1"), Stage.CONVERTED, today)
    events.withdraw(wrong, key=new_key(), by=staff)
    moved = happen(make_vessel("Teal", "Harbor 0"), Stage.CONVERTED, today)
    events.correct(moved, key=new_key(), by=staff, day=today - timedelta(days=200))
    long_ago = timezone.now() - timedelta(days=QUIET_DAYS + 1)
    PersonTally.objects.filter(user__email__contains="1").update(last=long_ago)
    # Staff who try the exercises are among the tries of their group.
    Membership.objects.create(group=groups[0], user=staff)
    practice_on(staff, skill=0)
    # Pairs of tows: of one harbor shown to staff, of the other in sums alone.
    for number in range(2 * SMALLEST + 2):
        harbor = number % 2
        level = Level.STAFF if harbor else Level.SUMS
        owner = make_fisherman(number, level, f"Harbor {harbor}")
        for day in (1, 2):
            caught = {"flatfish": (10.0 + number, 40.0 + 3 * day)}
            if number > 1:
                caught["hake"] = (400.0 + number, 410.0)
            make_pair(owner, date(2026, 7, day), **caught)
    letter = Letter.objects.create(key=uuid.uuid4(), body="Bring boots.", group=groups[0])
    LetterTo.objects.bulk_create(
        LetterTo(letter=letter, user=person, state=rng.choice(LetterTo.State.values))
        for person in User.objects.filter(memberships__group__in=groups).distinct()
    )
    return groups


def someone_who_missed(group):
    """Return a member who missed a rule: tasks are drawn anew each time, and some miss none."""
    missed = PersonRuleTally.objects.filter(missed__gt=0, user__memberships__group=group)
    return missed.exclude(user__role=Role.STAFF).earliest("user__email").user


def pages(group):
    way, uptake = reverse("desk:way"), reverse("register:uptake")
    return [
        way,
        f"{way}?role=officer",
        f"{way}?group={group.pk}",
        reverse("desk:rules"),
        reverse("desk:groups"),
        reverse("desk:group", args=[group.pk]),
        reverse("desk:group_live", args=[group.pk]),
        reverse("desk:calls"),
        reverse("letters:letter", args=[Letter.objects.get().pk]),
        reverse("desk:remembered"),
        reverse("evidence:evidence"),
        f"{reverse('desk:report')}?version=office",
        reverse("desk:trainee_record", args=[someone_who_missed(group).pk]),
        reverse("register:harbors"),
        uptake,
        f"{uptake}?harbor=Harbor+1&stage=back",
        f"{uptake}?size=middle",
    ]


@pytest.mark.parametrize("held", [False, True])
def test_every_count_opens_as_many_rows(as_staff, staff, fleet, held):
    if held:
        Reach.objects.create(user=staff, harbor="Harbor 1")
    group = fleet[1]
    opened = {}
    for page in pages(group):
        content = as_staff.get(page).content.decode()
        found = COUNT.findall(content)
        assert found, page
        for number, link in found:
            address = html.unescape(link)
            if address not in opened:
                rows = ROWS.search(as_staff.get(address).content.decode())
                opened[address] = int(rows[1])
            assert opened[address] == int(number), f"{page}: {address}"
    assert len(opened) > 40
    downloaded = 0
    for address, number in opened.items():
        path, __, asked = address.partition("?")
        if re.search(r"/desk/(remembered|calls)/.", path):
            sent = as_staff.get(f"{path.rstrip('/')}.csv?{asked}").getvalue().decode("utf-8-sig")
            assert len(list(csv.DictReader(io.StringIO(sent)))) == number, address
            downloaded += 1
    assert downloaded > 5


def test_a_list_says_what_it_is_narrowed_to(as_staff, fleet):
    told = {"role": "trainee", "at": "earned", "quiet": "on"}
    page = as_staff.get(reverse("desk:trainees"), told).content.decode()
    assert "now at “Earned a certificate”; no activity for" in page
    # Looking for a name among them keeps to them.
    assert '<input type="hidden" name="at" value="earned"' in page
    month = f"{timezone.localdate():%Y-%m}"
    page = as_staff.get(reverse("register:vessels"), {"came": "converted", "month": month})
    assert f"Only vessels that came to “fishing without a sweep” in {month}" in (
        page.content.decode()
    )
    assert page.context["page"].paginator.count == 0  # the only two entries were corrected
