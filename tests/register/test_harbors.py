"""Harbors are on one list, however they are written; renaming one renames it everywhere."""

from importlib import import_module

import pytest
from django.apps import apps

from tests.register.events_factory import happen, make_vessel
from tests.register.test_deriving import hand_in_sheet, standing
from training.people.models import Group, Reach
from training.register import harbors, uptake
from training.register.deriving import derive_all
from training.register.models import Harbor, HarborSpelling, UptakeTally, Vessel, VesselDetails
from training.register.stages import Stage

pytestmark = pytest.mark.django_db


@pytest.fixture
def kettle():
    return harbors.add("Kettle Harbor")


@pytest.mark.parametrize("text", ["kettle  harbor", "KETTLE-HARBOR", "Kettle Harbor."])
def test_a_harbor_is_known_without_case_and_signs(kettle, text):
    assert harbors.canonical(text) == "Kettle Harbor"


def test_what_is_saved_anywhere_is_on_the_list_once(group, staff):
    make_vessel("Teal", "Eastlight")
    make_vessel("Tern", "eastlight")
    Reach.objects.create(user=staff, harbor="Gannet Cove")
    Group.objects.create(name="No harbor", code="NONE")
    assert harbors.names() == ["Eastlight", "Gannet Cove", "Marrow Point"]


def test_a_spelling_means_one_harbor(kettle):
    harbors.spell(kettle, "Kettle Hbr")
    harbors.spell(kettle, "kettle hbr")
    other = harbors.add("Eastlight")
    with pytest.raises(harbors.HarborError, match="Kettle Harbor already"):
        harbors.spell(other, "KETTLE HBR")
    with pytest.raises(harbors.HarborError):
        harbors.spell(other, " - ")
    assert harbors.canonical("Kettle hbr.") == "Kettle Harbor"
    assert HarborSpelling.objects.filter(harbor=kettle).count() == 2


def test_a_sheet_that_writes_the_harbor_otherwise_is_of_that_vessel(kettle, officer):
    vessel = make_vessel()
    hand_in_sheet(officer, "Sanderling", harbor="Kettle Hbr")
    assert standing(vessel) == []
    harbors.spell(kettle, "Kettle Hbr")
    derive_all()
    assert [stage for stage, __ in standing(vessel)] == [Stage.CHECKED]


def test_renaming_renames_it_everywhere_and_knows_the_old_name(kettle, staff):
    vessel = make_vessel()
    happen(vessel, Stage.TOLD, "2026-07-01")
    Group.objects.create(name="Crews", code="CREWS", harbor="Kettle Harbor")
    Reach.objects.create(user=staff, harbor="Kettle Harbor")
    harbors.rename(kettle, "Kettle Cove")
    vessel.refresh_from_db()
    found = {vessel.harbor, Group.objects.get().harbor, Reach.objects.get().harbor}
    found |= set(VesselDetails.objects.values_list("harbor", flat=True))
    found |= set(UptakeTally.objects.filter(entered=1).values_list("harbor", flat=True))
    assert found == {"Kettle Cove"}
    assert harbors.canonical("Kettle Harbor") == "Kettle Cove"
    assert uptake.check() == []


def test_renaming_by_another_case_is_no_other_harbor(kettle):
    harbors.rename(kettle, "Kettle harbor")
    assert harbors.names() == ["Kettle harbor"]
    assert HarborSpelling.objects.get().text == "Kettle harbor"


def test_joining_moves_vessels_and_reaches(kettle, staff):
    wrong = harbors.add("Ketle Harbor")
    make_vessel("Teal", "Ketle Harbor")
    make_vessel("Tern", "Kettle Harbor")
    for name in ("Ketle Harbor", "Kettle Harbor"):
        Reach.objects.create(user=staff, harbor=name)
    harbors.join(wrong, kettle)
    assert set(Vessel.objects.values_list("harbor", flat=True)) == {"Kettle Harbor"}
    assert Reach.objects.get().harbor == "Kettle Harbor"
    assert harbors.canonical("ketle harbor") == "Kettle Harbor"
    assert harbors.names() == ["Kettle Harbor"]
    assert uptake.check() == []


def test_two_vessels_of_one_name_are_in_the_way(kettle):
    wrong = harbors.add("Ketle Harbor")
    make_vessel("Teal", "Ketle Harbor")
    make_vessel("teal", "Kettle Harbor")
    with pytest.raises(harbors.HarborError, match="Teal"):
        harbors.join(wrong, kettle)
    assert Harbor.objects.count() == 2


def test_the_list_begins_with_what_is_there():
    for name, harbor in (("A", "Eastlight"), ("B", "eastlight"), ("C", "Eastlight")):
        make_vessel(name, harbor)
    Group.objects.create(name="Crews", code="CREWS", harbor="Gannet Cove")
    Harbor.objects.all().delete()
    import_module("training.register.migrations.0006_harbors_so_far").tell(apps, None)
    assert harbors.names() == ["Eastlight", "Gannet Cove"]
    assert set(HarborSpelling.objects.values_list("plain", flat=True)) == {
        "eastlight",
        "gannet cove",
    }
