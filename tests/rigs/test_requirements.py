"""One class a requirement: found by its key, and refused with its name where a part is missing."""

import pytest

from rigs import requirements
from rigs.requirements.base import Measure
from rigs.requirements.questions import Question, one
from rigs.requirements.sights import LookedAt


def test_each_is_found_by_its_key():
    for each in requirements.all():
        assert requirements.find(each.key) is each


def test_an_unknown_key_is_named():
    with pytest.raises(KeyError, match="hull_color"):
        requirements.find("hull_color")


def test_a_class_without_a_key_is_refused_by_name():
    with pytest.raises(TypeError, match="HullColor: “key” is missing"):

        class HullColor(Measure):
            dimension = "flag"


def test_a_class_that_reads_nothing_is_refused_by_name():
    with pytest.raises(TypeError, match="HullColor: “read” is missing"):

        class HullColor(Measure):
            key = "hull_color"
            dimension = "flag"


def test_a_requirement_of_gear_that_no_sheet_asks_for_is_refused_by_name():
    with pytest.raises(TypeError, match="HullColor: “sheet” is missing"):

        class HullColor(Measure):
            key = "hull_color"
            dimension = "flag"

            def read(self, rig):
                return None


def test_what_is_looked_at_has_to_say_what_is_seen():
    with pytest.raises(TypeError, match="HullColor: “met” is missing: what is seen where"):

        class HullColor(LookedAt):
            key = "hull_color"
            about = "Paint"
            sheet = requirements.find("off_bottom").sheet

            def read(self, rig):
                return None


def test_what_is_measured_has_to_say_how_it_lies_about_a_limit():
    with pytest.raises(TypeError, match="HullLength: “scale” is missing"):

        class HullLength(Measure):
            key = "hull_length"
            dimension = "length"

            def read(self, rig):
                return None


def test_a_question_that_is_asked_nowhere_on_the_walk_is_refused_by_name():
    with pytest.raises(TypeError, match="HullColor: the question “hull” has no “stop”"):

        class HullColor(Measure):
            key = "hull_color"
            dimension = "flag"
            about = "Paint"
            sheet = one("hull", Question("hull", "Is the hull blue?", stop="bridge"))

            def read(self, rig):
                return None

            def near(self, making):
                return None


def test_what_is_read_of_a_trip_has_no_totals_on_a_sheet():
    for each in requirements.all():
        assert bool(each.sheet and each.sheet.totals) is not each.trip


def test_a_kind_of_quantity_that_nobody_knows_is_refused():
    with pytest.raises(TypeError, match="“dimension” is called “hue”"):

        class HullColor(Measure):
            key = "hull_color"
            dimension = "hue"
            scale = requirements.find("mesh_size").scale
            about = "Paint"
            sheet = requirements.find("off_bottom").sheet

            def read(self, rig):
                return None

            def near(self, making):
                return None


def test_two_of_one_key_are_refused_and_both_named():
    with pytest.raises(TypeError, match="Again.*“off_bottom”.*OffBottom"):

        class Again(Measure):
            key = "off_bottom"
            dimension = "flag"
            about = "Footrope"
            sheet = requirements.find("off_bottom").sheet

            def read(self, rig):
                return None

            def near(self, making):
                return None


def test_two_limits_of_one_reading_know_it():
    long, short = (requirements.find(f"mesh_count_{each}") for each in ("long", "short"))
    assert long.reading_of == short.reading_of != requirements.find("mesh_size").reading_of


def test_a_limit_is_put_as_so_many_steps_only_where_the_last_is_known():
    able = {each.key for each in requirements.all() if "every" in each.tests}
    assert able == {"dropper_spacing"}
