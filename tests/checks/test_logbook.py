"""The readings of a sheet: never one lost, never a strike undone, in whatever order saves come."""

import itertools
import random
import uuid
from importlib import import_module

import pytest
from django.apps import apps

from tests.checks.conftest import content, entry
from training.checks import keeping
from training.checks.keeping import keep
from training.checks.models import CheckReading, CheckSheet

pytestmark = pytest.mark.django_db

KEY = uuid.UUID(int=7)
A, B = "a" * 36, "b" * 36


def save(typed, readings=None, **changes):
    """Return the content of a save; without ``readings`` it is one of a phone from before."""
    told = content(typed=typed, **changes)
    return told if readings is None else told | {"readings": readings}


def log_of(sheet):
    return [(each.name, each.text, bool(each.struck)) for each in sheet.log]


def test_a_reading_is_one_row_with_its_times(officer):
    first = entry("bosom", "16 ft", at="2026-11-24T07:45:00-05:00", tool="tape")
    sheet = keep(officer, KEY, A, 1, save({"bosom": "16 ft"}, [first]))
    row = sheet.readings.get()
    keep(officer, KEY, A, 2, save({"bosom": "16 ft"}, [first], notes="Rope wet."))
    again = CheckReading.objects.get()
    assert (again.arrived, again.rail) == (row.arrived, "2026-11-24T07:45:00-05:00")
    assert (again.how, again.tool) == ("measured", "tape")


def test_a_reading_that_a_later_save_leaves_out_stays(officer):
    first, second = entry("bosom", "16 ft"), entry("bosom", "17 ft")
    keep(officer, KEY, A, 1, save({"bosom": "17 ft"}, [first, second]))
    sheet = keep(officer, KEY, A, 2, save({"bosom": "17 ft"}, [second]))
    assert log_of(sheet) == [("bosom", "16 ft", False), ("bosom", "17 ft", False)]
    assert sheet.typed == {"bosom": "17 ft"}


def test_a_strike_is_never_undone(officer):
    one = entry("bosom", "16 ft")
    struck = one | {"struck": "2026-11-24T08:00:00-05:00", "why": "Wrong rope."}
    other = entry("bosom", "17 ft")
    for order in itertools.permutations(
        [(1, [one], "16 ft"), (2, [struck, other], "17 ft"), (3, [one, other], "17 ft")]
    ):
        key = uuid.uuid4()
        for number, log, text in order:
            mine = [each | {"id": each["id"] + str(key)[:4]} for each in log]
            sheet = keep(officer, key, A, number, save({"bosom": text}, mine))
        assert log_of(sheet) == [("bosom", "16 ft", True), ("bosom", "17 ft", False)]
        assert sheet.log[0].why == "Wrong rope."


def test_what_is_still_being_typed_is_one_reading(officer):
    begun = entry("bosom", "1")
    for number, text in enumerate(("1", "16", "16 ft"), 1):
        sheet = keep(officer, KEY, A, number, save({"bosom": text}, [begun | {"text": text}]))
    assert log_of(sheet) == [("bosom", "16 ft", False)]
    late = keep(officer, uuid.uuid4(), A, 3, save({"bosom": "16 ft"}, [begun | {"text": "16 ft"}]))
    late = keep(officer, late.key, A, 2, save({"bosom": "16"}, [begun | {"text": "16"}]))
    assert log_of(late) == [("bosom", "16 ft", False)]


def test_of_two_phones_all_readings_stay_in_whatever_order_their_saves_arrive(officer):
    ours = [entry("bosom", "16 ft"), entry("port_gap", "8 in")]
    theirs = [entry("bosom", "17 ft"), entry("headrope", "60 ft")]
    saves = [
        (A, 1, {"bosom": "16 ft"}, ours[:1]),
        (A, 2, {"bosom": "16 ft", "port_gap": "8 in"}, ours),
        (B, 1, {"bosom": "17 ft"}, theirs[:1]),
        (B, 3, {"bosom": "17 ft", "headrope": "60 ft"}, theirs),
    ]
    outcomes = set()
    for order in itertools.permutations(saves):
        key = uuid.uuid4()
        for device, number, typed, log in order:
            mine = [each | {"id": f"{key.hex[:8]} {each['id']}"} for each in log]
            sheet = keep(officer, key, device, number, save(typed, mine))
        sheet = CheckSheet.objects.get(key=key)
        outcomes.add((tuple(log_of(sheet)), tuple(sorted(sheet.typed.items()))))
    # The newest save has the last word on what it knows; what only the other knew counts too.
    told = {"bosom": "17 ft", "headrope": "60 ft", "port_gap": "8 in"}
    assert [dict(typed) for _, typed in outcomes] == [told]
    ((log, _),) = outcomes
    assert {("bosom", "16 ft", False), ("bosom", "17 ft", False)} <= set(log)


def test_what_comes_after_turning_in_is_kept_and_not_counted(officer):
    first = entry("bosom", "16 ft")
    sheet = keep(officer, KEY, A, 1, save({"bosom": "16 ft"}, [first]), hands_in=True)
    assert sheet.finished
    late = first | {"struck": "2026-11-24T09:00:00-05:00"}
    other = entry("bosom", "19 ft")
    sheet = keep(officer, KEY, B, 2, save({"bosom": "19 ft"}, [late, other]))
    assert sheet.typed == {"bosom": "16 ft"}
    assert log_of(sheet) == [("bosom", "16 ft", False)]
    assert sheet.readings.get(late=True).text == "19 ft"
    assert "after the sheet was turned in" in sheet.revisions.get(device=B).parted


def test_a_phone_from_before_sends_answers_without_readings(officer):
    keep(officer, KEY, A, 1, save({"bosom": "16 ft", "port_gap": "8 in"}))
    sheet = keep(officer, KEY, A, 2, save({"bosom": "17 ft", "port_gap": "8 in"}))
    assert sorted(log_of(sheet)) == [
        ("bosom", "16 ft", True),
        ("bosom", "17 ft", False),
        ("port_gap", "8 in", False),
    ]
    assert {row.rail for row in sheet.readings.all()} == {""}
    sheet = keep(officer, KEY, A, 3, save({"port_gap": "8 in"}))
    assert sheet.typed == {"port_gap": "8 in"}
    assert sheet.readings.filter(name="bosom", struck="").count() == 0
    assert (sheet.head, sheet.at_sea, sheet.boarding, sheet.signatures) == ({}, False, "", [])


def test_an_answer_that_its_own_log_does_not_hold_is_not_lost(officer):
    """As from a page that took over a log it does not know and typed on."""
    first = entry("bosom", "16 ft")
    sheet = keep(officer, KEY, A, 1, save({"bosom": "18 ft"}, [first]))
    assert sheet.typed == {"bosom": "18 ft"}
    assert log_of(sheet) == [("bosom", "16 ft", True), ("bosom", "18 ft", False)]
    sheet = keep(officer, KEY, A, 2, save({}, [first]))
    assert sheet.typed == {}
    assert all(struck for _, _, struck in log_of(sheet))


def test_random_logs_from_two_phones_lose_nothing(officer):
    for seed in range(8):
        rng, key, made = random.Random(seed), uuid.uuid4(), {}
        logs = {A: [], B: []}
        saves = []
        for number in range(1, 13):
            device = rng.choice((A, B))
            log = logs[device]
            name = rng.choice(("bosom", "headrope"))
            if rng.random() < 0.6 and log:
                last = rng.randrange(len(log))
                log[last] = log[last] | {"struck": f"2026-11-24T09:{number:02}:00-05:00"}
            one = entry(name, f"{rng.randint(10, 60)} ft")
            made[one["id"]] = one["text"]
            log.append(one)
            typed = {each["name"]: each["text"] for each in log if not each["struck"]}
            saves.append((device, number, save(typed, list(log))))
        rng.shuffle(saves)
        for device, number, told in saves:
            sheet = keep(officer, key, device, number, told)
        sheet = CheckSheet.objects.get(key=key)
        assert {each.id: each.text for each in sheet.log} == made
        struck = {each["id"] for log in logs.values() for each in log if each["struck"]}
        assert {each.id for each in sheet.log if each.struck} == struck
        counted = {}
        for each in sheet.log:
            if not each.struck:
                counted[each.name] = each.text
        assert sheet.typed == counted


def test_a_code_is_given_once_and_to_one_sheet(officer):
    sheet = keep(officer, KEY, A, 1, save({}, [], code="ABCD-EFGH-JKMN"))
    assert sheet.code == "ABCDEFGHJKMN"
    sheet = keep(officer, KEY, A, 2, save({}, [], code="ZZZZZZZZZZZZ"))
    assert sheet.code == "ABCDEFGHJKMN"
    other = keep(officer, uuid.uuid4(), A, 1, save({}, [], code="ABCDEFGHJKMN"))
    assert other.code == ""
    other = keep(officer, other.key, A, 2, save({}, []), hands_in=True)
    assert len(other.code) == 12
    assert other.code != sheet.code
    bad = keep(officer, uuid.uuid4(), A, 1, save({}, [], code="0OIl"))
    assert bad.code == ""


def test_a_sheet_thrown_away_is_kept_once_with_its_reason(officer):
    for _ in range(2):
        thrown = keeping.throw_away(officer, KEY, "Wrong vessel.", "", {"vessel_name": "Eider"})
    assert str(thrown) == "Eider"
    assert officer.thrown_sheets.count() == 1
    sheet = keep(officer, uuid.uuid4(), A, 1, save({"bosom": "16 ft"}), hands_in=True)
    with pytest.raises(keeping.IsTurnedIn):
        keeping.throw_away(officer, sheet.key, "Wrong.", "", {})


def test_sheets_from_before_are_given_their_readings(officer):
    """As those that were kept before readings were rows."""
    keep(officer, KEY, A, 1, save({"bosom": "16 ft", "port_gap": "8 in"}))
    keep(officer, KEY, A, 2, save({"bosom": "17 ft", "bosom_sure": "17 ft", "port_gap": "8 in"}))
    keep(officer, KEY, A, 3, save({"bosom": "17 ft"}), hands_in=True)
    keep(officer, KEY, B, 4, save({"bosom": "99 ft"}))
    sheet = keep(officer, KEY, A, 5, save({"bosom": "15 ft"}), reason="Read the wrong mark.")
    kept = [each._replace(struck="x" * bool(each.struck)) for each in sheet.log]
    sheet.readings.all().delete()
    import_module("training.checks.migrations.0004_readings_of_old_sheets").give(apps, None)
    found = [each._replace(struck="x" * bool(each.struck)) for each in sheet.log]
    assert sorted(found) == sorted(kept)
    assert [each.text for each in found if each.name == "bosom"] == ["16 ft", "17 ft", "15 ft"]
    assert [each.why for each in found if each.struck][-1] == "Read the wrong mark."
    arrived = {row.text: row.arrived for row in sheet.readings.all()}
    assert arrived["15 ft"] == sheet.revisions.get(number=5).received
