"""The pages on which the register is kept tidy: removing, merging, harbors, many stages at once."""

import uuid

import pytest
from django.urls import reverse

from tests.register.events_factory import happen, make_vessel
from training.people.models import Group, User
from training.register import harbors, uptake
from training.register.models import AdoptionEvent, Harbor, Removal, Vessel
from training.register.stages import Stage

pytestmark = pytest.mark.django_db


def at(name, *args):
    return reverse(f"register:{name}", args=args)


def text(response):
    return response.content.decode()


@pytest.fixture
def vessel():
    return make_vessel("Sanderling", captain="Ida Fenwright")


@pytest.fixture
def twin():
    return make_vessel("Sandarling", feet=48, registration="TS 1041")


class TestRemoving:
    def test_it_asks_first_and_can_be_put_back(self, as_staff, vessel):
        happen(vessel, Stage.TOLD, "2026-07-01")
        page = text(as_staff.get(at("vessel_remove", vessel.pk)))
        assert "0 people are listed on it now." in page
        assert "1 entry of what happened counts." in page
        assert Vessel.objects.exists()
        key = {"key": str(uuid.uuid4())}
        for __ in range(2):
            response = as_staff.post(at("vessel_remove", vessel.pk), key, follow=True)
            assert "Put it back here." in text(response)
        assert not Vessel.objects.exists()
        assert "Sanderling was taken off the register." in text(
            as_staff.get(at("vessel", vessel.pk), follow=True)
        )
        (removal,) = Removal.objects.all()
        page = text(as_staff.post(at("vessel_put_back", removal.pk), follow=True))
        assert "Sanderling is back on the register." in page
        assert "None." in text(as_staff.get(at("removed_vessels")))

    def test_one_whose_name_is_taken_says_why_it_stays_off(self, as_staff, vessel):
        as_staff.post(at("vessel_remove", vessel.pk), {"key": str(uuid.uuid4())})
        make_vessel("sanderling")
        page = text(as_staff.post(at("vessel_put_back", Removal.objects.get().pk), follow=True))
        assert "now has this name or number" in page

    def test_elsewhere_is_out_of_reach(self, as_staff, staff, vessel):
        staff.reaches.create(harbor="Eastlight")
        for name in ("vessel_remove", "vessel_merge"):
            assert as_staff.get(at(name, vessel.pk)).status_code == 404
        sent = {"key": str(uuid.uuid4())}
        assert as_staff.post(at("vessel_remove", vessel.pk), sent).status_code == 404
        staff.reaches.all().delete()
        User.objects.filter(pk=staff.pk).update(whole_fleet=True)
        as_staff.post(at("vessel_remove", vessel.pk), sent, follow=True)
        staff.reaches.create(harbor="Eastlight")
        assert "Sanderling" not in text(as_staff.get(at("removed_vessels")))
        assert as_staff.post(at("vessel_put_back", Removal.objects.get().pk)).status_code == 404
        assert as_staff.get(at("vessel", vessel.pk)).status_code == 404

    @pytest.mark.parametrize("number", [1, 20])
    def test_the_list_asks_little(self, as_staff, number, django_assert_max_num_queries):
        for index in range(number):
            gone = make_vessel(f"Vessel {index}")
            as_staff.post(at("vessel_remove", gone.pk), {"key": str(uuid.uuid4())})
        with django_assert_max_num_queries(7):
            as_staff.get(at("removed_vessels"))


class TestMerging:
    def test_the_like_are_offered_and_others_are_found(self, as_staff, vessel, twin):
        make_vessel("Dovekie", "Eastlight", owner="Ole Ormsby")
        page = text(as_staff.get(at("vessel_merge", vessel.pk)))
        assert "Sandarling" in page
        assert "Dovekie" not in page
        page = text(as_staff.get(at("vessel_merge", vessel.pk), {"text": "ormsby"}))
        assert "Dovekie" in page
        assert "Sandarling" not in page

    def test_one_of_both_is_kept_with_what_is_chosen(self, as_staff, vessel, twin):
        address = f"{at('vessel_merge', vessel.pk)}?other={twin.pk}"
        page = text(as_staff.get(address))
        assert "48 ft" in page
        assert "TS 1041" in page
        assert 'name="gear"' not in page  # alike, nothing to choose
        sent = {"key": str(uuid.uuid4()), "name": "here", "length": "there"}
        sent |= {"registration": "there", "captain": "here"}
        for __ in range(2):
            response = as_staff.post(address, sent)
            assert response.url == at("vessel", vessel.pk)
        kept = Vessel.objects.get()
        told = (kept.pk, kept.name, kept.length_text, kept.registration, kept.captain)
        assert told == (vessel.pk, "Sanderling", "48 ft", "TS 1041", "Ida Fenwright")
        assert Removal.objects.count() == 1

    def test_a_third_of_that_name_is_in_the_way(self, as_staff, vessel, twin):
        make_vessel("Sandarling", "Eastlight")
        twin.harbor = "Gannet Cove"
        twin.save()
        vessel.harbor = "Eastlight"
        vessel.save()
        address = f"{at('vessel_merge', vessel.pk)}?other={twin.pk}"
        sent = {"key": str(uuid.uuid4()), "name": "there", "harbor": "here", "length": "here"}
        sent |= {"registration": "here", "captain": "here"}
        assert "has a third vessel called Sandarling" in text(as_staff.post(address, sent))
        assert Vessel.objects.count() == 3


class TestHarbors:
    def test_each_counts_the_vessels_that_its_link_lists(self, as_staff, vessel, twin):
        harbors.spell(Harbor.objects.get(), "Kettle Hbr")
        as_staff.post(at("vessel_remove", twin.pk), {"key": str(uuid.uuid4())})
        page = text(as_staff.get(at("harbors")))
        assert 'data-count="1"' in page
        assert "Kettle Hbr" in page

    def test_one_is_added_once_however_it_is_written(self, as_staff):
        for name in ("Gannet Cove", "gannet  cove."):
            as_staff.post(at("harbors"), {"name": name})
        assert harbors.names() == ["Gannet Cove"]
        assert "at least one letter" in text(as_staff.post(at("harbors"), {"name": "--"}))

    def test_spelled_renamed_and_joined(self, as_staff, vessel):
        (harbor,) = Harbor.objects.all()
        address = at("harbor", harbor.pk)
        as_staff.post(address, {"do": "spell", "text": "Kettle Hbr"})
        as_staff.post(address, {"do": "rename", "name": "Kettle Cove"})
        vessel.refresh_from_db()
        assert vessel.harbor == "Kettle Cove"
        assert harbors.canonical("kettle hbr") == "Kettle Cove"
        other = harbors.add("Eastlight")
        assert "Check this box" in text(as_staff.post(address, {"do": "join", "other": other.pk}))
        sent = {"do": "join", "other": other.pk, "sure": "on"}
        assert as_staff.post(address, sent).url == at("harbor", other.pk)
        assert Vessel.objects.get().harbor == "Eastlight"
        assert harbors.canonical("kettle hbr") == "Eastlight"
        spelling = other.spellings.get(text="Kettle Hbr")
        as_staff.post(at("spelling_remove", spelling.pk))
        as_staff.post(at("spelling_remove", other.spellings.get(text="Eastlight").pk))
        assert harbors.canonical("kettle hbr") is None
        assert harbors.canonical("eastlight") == "Eastlight"

    def test_what_is_taken_is_said(self, as_staff, vessel):
        harbors.add("Eastlight")
        address = at("harbor", Harbor.objects.get(name="Kettle Harbor").pk)
        for sent in ({"do": "spell", "text": "eastlight"}, {"do": "rename", "name": "Eastlight"}):
            assert "means Eastlight already" in text(as_staff.post(address, sent))
        assert Harbor.objects.count() == 2

    def test_those_held_to_a_harbor_see_theirs_and_change_none(self, as_staff, staff, vessel):
        harbors.add("Gannet Cove")
        staff.reaches.create(harbor="Kettle Harbor")
        page = text(as_staff.get(at("harbors")))
        assert "Kettle Harbor" in page
        assert "Gannet Cove" not in page
        assert "Add a harbor" not in page
        as_staff.post(at("harbors"), {"name": "Eastlight"})
        assert Harbor.objects.count() == 2
        assert as_staff.get(at("harbor", Harbor.objects.first().pk)).status_code == 403

    def test_a_group_of_a_new_harbor_brings_it_along(self, as_staff):
        Group.objects.create(name="Crews", code="CREWS", harbor="Marrow Point")
        assert "Marrow Point" in text(as_staff.get(at("vessel_new")))


class TestManyStages:
    def sent(self, *vessels, **changed):
        told = {"key": str(uuid.uuid4()), "stage": "told", "day": "2026-07-01", "known": "hand"}
        return told | {"vessels": [each.pk for each in vessels]} | changed

    def test_recorded_once_for_each_and_undone_for_all(self, as_staff, vessel, twin):
        third = make_vessel("Dovekie", "Eastlight")
        happen(twin, Stage.CONVERTED, "2026-06-01")
        sent = self.sent(vessel, twin)
        for __ in range(2):
            response = as_staff.post(at("stage_many"), sent)
        assert AdoptionEvent.objects.count() == 3
        assert not third.events.exists()
        page = text(as_staff.get(response.url))
        assert "This counts for 2 vessels." in page
        # The one had come further: saying so keeps the other figure from misleading.
        assert "Sandarling</a>, Kettle Harbor: fishing without a sweep" in page
        assert "Sanderling</a>, Kettle Harbor: talked to" in page
        assert uptake.check() == []
        for number in (2, 0):
            page = text(as_staff.post(f"{response.url}undo/", follow=True))
            assert f"Withdrawn for {number} vessels." in page
        assert "All of it is withdrawn." in page
        assert AdoptionEvent.objects.standing().count() == 1
        assert uptake.check() == []

    @pytest.mark.parametrize(
        ("changed", "said"),
        [
            ({"vessels": []}, "Check at least one vessel."),
            ({"day": "2999-01-01"}, "in the future"),
            ({"stage": ""}, "This field is required."),
        ],
    )
    def test_mistakes_are_said_and_what_was_checked_stays(self, as_staff, vessel, changed, said):
        page = text(as_staff.post(at("stage_many"), self.sent(vessel, **changed)))
        assert said in page
        assert not AdoptionEvent.objects.exists()
        assert (f'value="{vessel.pk}" checked>' in page) == ("vessels" not in changed)

    def test_a_vessel_elsewhere_is_not_recorded(self, as_staff, staff, vessel):
        as_staff.post(at("stage_many"), sent := self.sent(vessel))
        staff.reaches.create(harbor="Eastlight")
        for name in ("stage_many_done", "stage_many_undo"):
            ask = as_staff.get if name == "stage_many_done" else as_staff.post
            assert ask(at(name, sent["key"])).status_code == 404
        as_staff.post(at("stage_many"), self.sent(vessel))
        assert AdoptionEvent.objects.count() == 1

    def test_the_list_is_narrowed_as_that_of_vessels(self, as_staff, vessel):
        make_vessel("Dovekie", "Eastlight")
        page = text(as_staff.get(at("stage_many"), {"harbor": "Eastlight"}))
        assert "Dovekie" in page
        assert "Sanderling" not in page
