"""Stages that the site knows of by itself, at once and by the command alike."""

import uuid
from datetime import date, timedelta

import pytest
from django.core.management import CommandError, call_command
from django.utils import timezone

from rigs.check.unswept import forbids_sweep
from rigs.rules import rulebook
from tests.certification.certificate_factory import make_exam
from tests.checks.conftest import DAY, entry, make_check
from tests.register.events_factory import make_vessel, new_key
from training.certification import certificates
from training.checks.models import CheckSheet
from training.nets.models import Net, Rigging
from training.people.sharing import Level, What, choose
from training.register import events, harbors, removing, uptake
from training.register.deriving import derive, derive_all, matching, sources
from training.register.models import AdoptionEvent, Crew, Harbor, Vessel
from training.register.stages import Known, Stage
from training.register.vessels import unmatched_views

pytestmark = pytest.mark.django_db

TODAY = timezone.localdate


@pytest.fixture
def vessel():
    return make_vessel(registration="TS 1041")


@pytest.fixture
def berth(vessel, user):
    return Crew.objects.create(vessel=vessel, user=user)


def standing(vessel, known=None):
    """Return the stages and days that stand for ``vessel``."""
    found = AdoptionEvent.objects.standing().filter(vessel=vessel)
    if known:
        found = found.filter(known=known)
    return [(event.stage, event.day) for event in found]


def make_net(owner):
    return Net.objects.create(owner=owner, key=uuid.uuid4(), name="Net", goal="no-sweep")


def hand_in_sheet(
    officer, name, harbor="Kettle Harbor", day=date(2026, 9, 1), rules="no-sweep", **typed
):
    """Return a sheet turned in, on which no sweep was seen unless ``typed`` says otherwise."""
    book = rulebook.load(rules, "1")
    sheet = CheckSheet(
        key=uuid.uuid4(),
        officer=officer,
        vessel_name=name,
        harbor=harbor,
        day=day,
        rulebook_name=book.name,
        rulebook_version=book.version,
        typed={"sweep": "no"} | typed,
    )
    sheet.save()
    sheet.judge()
    sheet.finished = timezone.now()
    sheet.save()
    return sheet


class TestCrew:
    def test_signing_up_puts_a_vessel_in_training(self, vessel, berth):
        assert standing(vessel) == [(Stage.TRAINING, TODAY())]
        assert vessel.events.get().known == Known.CREW

    def test_not_before_the_account_was_made(self, vessel, user):
        Crew.objects.create(vessel=vessel, user=user, since=date(2019, 5, 1))
        assert standing(vessel) == [(Stage.TRAINING, timezone.localdate(user.joined))]

    def test_not_if_they_left_before(self, vessel, user):
        yesterday = TODAY() - timedelta(days=1)
        Crew.objects.create(vessel=vessel, user=user, since=date(2019, 5, 1), until=yesterday)
        assert standing(vessel) == []

    def test_leaving_takes_nothing_back(self, vessel, berth):
        berth.until = TODAY()
        berth.save()
        assert standing(vessel) == [(Stage.TRAINING, TODAY())]

    def test_a_day_that_is_mended_corrects_the_event(self, vessel, user, berth):
        user.joined -= timedelta(days=30)
        user.save()
        berth.since = TODAY() - timedelta(days=20)
        berth.save()
        assert standing(vessel) == [(Stage.TRAINING, berth.since)]
        assert AdoptionEvent.objects.count() == 2


class TestCertificates:
    def test_one_of_the_crew_makes_it_a_certified_crew(self, vessel, berth, user):
        certificate = certificates.issue(make_exam(user))
        assert standing(vessel, Known.CERTIFICATE) == [(Stage.CREWED, TODAY())]
        event = vessel.events.get(known=Known.CERTIFICATE)
        assert event.key == f"certificate:{certificate.pk}:vessel:{vessel.pk}"

    def test_one_that_was_there_before(self, vessel, user):
        certificates.issue(make_exam(user))
        Crew.objects.create(vessel=vessel, user=user)
        assert standing(vessel, Known.CERTIFICATE) == [(Stage.CREWED, TODAY())]

    def test_taken_back_it_no_longer_counts(self, vessel, berth, user, staff):
        certificate = certificates.issue(make_exam(user))
        certificates.revoke(certificate, "Somebody else sat for it.", staff)
        assert standing(vessel, Known.CERTIFICATE) == []
        assert vessel.events.filter(is_withdrawal=True).count() == 1


class TestNets:
    def test_a_net_counts_if_its_owner_lets_it(self, vessel, berth, user):
        make_net(user)
        assert standing(vessel, Known.PLAN) == []
        choose(user, What.NETS, Level.SUMS)
        assert standing(vessel, Known.PLAN) == [(Stage.PLANNED, TODAY())]

    def test_and_no_longer_if_he_does_not(self, vessel, berth, user):
        choose(user, What.NETS, Level.STAFF)
        net = make_net(user)
        choose(user, What.NETS, Level.OWN)
        assert standing(vessel, Known.PLAN) == []
        choose(user, What.NETS, Level.SUMS)
        assert standing(vessel, Known.PLAN) == [(Stage.PLANNED, TODAY())]
        net.put_aside()
        assert standing(vessel, Known.PLAN) == []
        assert uptake.check() == []


def rig_net(net, day):
    was = net.told | {"day": day.isoformat()}
    return Rigging.objects.create(net=net, key=uuid.uuid4(), day=day, was=was)


class TestRiggings:
    def test_word_of_it_counts_if_nets_may_be_counted(self, vessel, berth, user):
        rigging = rig_net(make_net(user), TODAY())
        assert standing(vessel, Known.RIGGED) == []
        choose(user, What.NETS, Level.SUMS)
        assert standing(vessel, Known.RIGGED) == [(Stage.RIGGED, TODAY())]
        rigging.put_aside()
        assert standing(vessel, Known.RIGGED) == []
        rigging.put_back()
        assert standing(vessel, Known.RIGGED) == [(Stage.RIGGED, TODAY())]

    def test_a_net_that_is_deleted_no_longer_counts(self, vessel, berth, user):
        choose(user, What.NETS, Level.SUMS)
        net = make_net(user)
        rig_net(net, TODAY())
        net.put_aside()
        assert standing(vessel, Known.RIGGED) == []

    def test_it_counts_for_the_vessel_of_that_day_alone(self, vessel, user):
        choose(user, What.NETS, Level.SUMS)
        day = TODAY() - timedelta(days=9)
        Crew.objects.create(vessel=vessel, user=user, since=day, until=day)
        later = make_vessel("Dunlin")
        Crew.objects.create(vessel=later, user=user, since=day + timedelta(days=1))
        rig_net(make_net(user), day)
        assert standing(vessel, Known.RIGGED) == [(Stage.RIGGED, day)]
        assert standing(later, Known.RIGGED) == []


class TestSheets:
    @pytest.mark.parametrize("name", ["Sanderling", " SANDERLING", "ts 1041"])
    def test_are_matched_by_name_or_number(self, vessel, officer, name):
        hand_in_sheet(officer, name, "kettle harbor")
        assert standing(vessel) == [(Stage.CHECKED, date(2026, 9, 1))]

    def test_not_to_one_of_that_name_elsewhere(self, vessel, officer):
        hand_in_sheet(officer, "Sanderling", "Eastlight")
        assert standing(vessel) == []

    def test_not_before_they_are_handed_in(self, vessel, officer):
        sheet = hand_in_sheet(officer, "Dunlin")
        sheet.finished, sheet.vessel_name = None, "Sanderling"
        sheet.save()
        assert standing(vessel) == []

    def test_a_vessel_added_later_is_found(self, officer):
        hand_in_sheet(officer, "Dunlin")
        assert standing(make_vessel("Dunlin")) == [(Stage.CHECKED, date(2026, 9, 1))]


class TestSheetsWithoutVessel:
    """Found by the database where a name is the same to the letter, else as they are matched."""

    # Name and harbor as written on the sheet, the number on the hull, whether it has a vessel.
    WRITTEN = (
        ("Sanderling", "Kettle Harbor", "", True),
        ("sanderling ", "KETTLE  harbor", "", True),
        ("Sanderling", "The Kettle", "", True),  # another spelling
        ("Sanderling", "Eastlight", "", False),
        ("Sanderling", "", "", False),
        ("Sanderlin", "Kettle Harbor", "", False),
        ("Sanderlin", "", "ts-1041", True),
        ("ts 1041", "Eastlight", "", True),
        ("Dunlin", "Nowhere", "", True),  # a harbor that is on no list
        ("Knot", "Eastlight", "", True),  # merged into another
        ("Gone", "Eastlight", "", False),  # taken off the register
        ("Ruff", "Old Quay", "", False),  # that text means another harbor now
    )

    def test_are_those_that_no_vessel_is_meant_by(self, vessel, officer, staff):
        harbors.spell(harbors.add("Kettle Harbor"), "The Kettle")
        knot, gone = make_vessel("Knot", "Eastlight"), make_vessel("Gone", "Eastlight")
        removing.merge(knot, vessel, staff, uuid.uuid4())
        removing.remove(gone, staff, uuid.uuid4())
        harbors.spell(harbors.add("Eastlight"), "Old Quay")
        odd = make_vessel("Dunlin", "Nowhere"), make_vessel("Ruff", "Kettle Harbor")
        Harbor.objects.filter(name="Nowhere").delete()
        Vessel.objects.filter(pk=odd[1].pk).update(harbor="Old Quay")
        hand_in_sheet(officer, "Not turned in")
        CheckSheet.objects.update(finished=None)
        sheets = {}
        for name, harbor, painted, has_vessel in self.WRITTEN:
            sheet = hand_in_sheet(officer, name, harbor)
            CheckSheet.objects.filter(pk=sheet.pk).update(head={"vessel_number": painted})
            sheets[sheet.pk] = has_vessel
        names = sources.names_of(Vessel.objects.all())
        plain = {
            pk
            for pk, *told in CheckSheet.objects.finished().values_list("pk", *sources.NAMING)
            if names.meant(*told) is None
        }
        assert plain == {pk for pk, has_vessel in sheets.items() if not has_vessel}
        assert set(sources.unmatched()) == plain
        found = {each.pk for each in unmatched_views.unmatched_for(staff)}
        assert found == plain


class TestRigChecked:
    """Nothing outside, and a sweep looked for in vain, by rules that forbid one."""

    def test_though_much_was_not_measured(self, vessel, officer):
        assert hand_in_sheet(officer, "Sanderling").not_measured > 5
        assert standing(vessel) == [(Stage.CHECKED, date(2026, 9, 1))]

    def test_by_the_rules_of_the_grate(self, vessel, officer):
        hand_in_sheet(officer, "Sanderling", rules="grate")
        assert standing(vessel) == [(Stage.CHECKED, date(2026, 9, 1))]

    @pytest.mark.parametrize(
        ("rules", "typed"),
        [
            ("no-sweep", {"sweep": "yes"}),
            ("no-sweep", {"sweep": ""}),
            ("no-sweep", {"dropper_bare": "no"}),
            ("chain-sweep", {}),
            ("chain-sweep", {"sweep": "yes"}),
        ],
    )
    def test_else_not(self, vessel, officer, rules, typed):
        hand_in_sheet(officer, "Sanderling", rules=rules, **typed)
        assert standing(vessel) == []

    def test_not_by_what_the_skipper_says(self, vessel, officer):
        for how, stages in (("told", []), ("measured", [(Stage.CHECKED, DAY)])):
            said = {"sweep": "no"}
            log = [entry("sweep", "no", how=how)]
            make_check(officer, True, typed=said, readings=log)
            assert standing(vessel) == stages

    def test_at_sea_it_is_known_by_the_number_on_its_hull(self, officer):
        vessel = make_vessel("Dunlin", "Eastlight", registration="TS 77")
        seen = {"vessel_name": "Dunlim", "harbor": "", "at_sea": True, "position": "42 N, 70 W"}
        log = [entry("sweep", "no")]
        head = {"vessel_number": "ts-77"}
        make_check(officer, True, head=head, typed={"sweep": "no"}, readings=log, **seen)
        assert standing(vessel) == [(Stage.CHECKED, DAY)]

    def test_a_correction_takes_it_back_and_brings_it(self, vessel, officer):
        sheet = hand_in_sheet(officer, "Sanderling")
        for seen, stages in (("yes", []), ("no", [(Stage.CHECKED, sheet.day)])):
            sheet.typed["sweep"] = seen
            sheet.judge()
            sheet.save()
            assert standing(vessel) == stages
            assert uptake.check() == []

    def test_what_was_derived_before_is_withdrawn(self, vessel, officer):
        sheet = hand_in_sheet(officer, "Sanderling", rules="chain-sweep", sweep="yes")
        key = f"sheet:{sheet.pk}:vessel:{vessel.pk}"
        events.record(vessel, Stage.CHECKED, sheet.day, key=key, known=Known.SHEET)
        call_command("derive_stages")
        assert standing(vessel) == []
        assert (vessel.standing.stage, uptake.check()) == ("", [])

    def test_the_books_that_forbid_a_sweep(self):
        found = {name for name in rulebook.gear_names() if forbids_sweep(rulebook.load(name, "1"))}
        # By the clauses: no-sweep and the grate's "no sweep of any kind"; not the chain sweep's.
        assert found == {"no-sweep", "grate"}


class TestOnce:
    def test_doing_it_again_does_nothing(self, vessel, berth, user):
        certificates.issue(make_exam(user))
        assert derive([vessel.pk]) == 0
        assert derive_all() == 0

    def test_what_staff_said_stands(self, vessel, berth, staff):
        events.withdraw(vessel.events.get(), key=new_key(), by=staff, note="Another boat")
        assert derive([vessel.pk]) == 0
        assert standing(vessel) == []

    def test_the_command_comes_to_the_same(self, user, officer, capsys):
        vessel = make_vessel()
        Crew.objects.bulk_create([Crew(vessel=vessel, user=user)])
        Net.objects.bulk_create([Net(owner=user, key=uuid.uuid4(), name="Net", goal="no-sweep")])
        choose(user, What.NETS, Level.STAFF)
        at_once = standing(vessel)
        AdoptionEvent.objects.all().delete()
        call_command("derive_stages")
        assert (
            standing(vessel)
            == at_once
            == [
                (Stage.TRAINING, TODAY()),
                (Stage.PLANNED, TODAY()),
            ]
        )
        assert "1 of 1 vessels looked at, 2 new events." in capsys.readouterr().out
        assert uptake.check() == []

    def test_stopping_the_command_leaves_what_agrees(self, vessel, user, monkeypatch):
        def stop(pks):
            raise KeyboardInterrupt

        monkeypatch.setattr(matching, "derive", stop)
        with pytest.raises(CommandError, match="Stopped"):
            call_command("derive_stages")
        assert uptake.check() == []

    @pytest.mark.parametrize("number", [2, 40])
    def test_asks_the_database_little(self, user, officer, number, django_assert_max_num_queries):
        vessels = [make_vessel(f"Vessel {index}") for index in range(number)]
        Crew.objects.bulk_create([Crew(vessel=vessel, user=user) for vessel in vessels])
        with django_assert_max_num_queries(22):
            assert derive([vessel.pk for vessel in vessels]) == number
