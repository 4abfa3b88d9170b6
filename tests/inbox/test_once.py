"""What a phone noted is answered once, and nothing of it is lost whatever came of it."""

import threading
import uuid
from datetime import timedelta

import pytest
from django.db import connection
from django.test import Client
from django.utils import timezone

from tests.inbox.noting import headers, send
from tests.nets.conftest import make_net, make_tow, net_entries, tow_entries
from training.inbox.beside import stamp
from training.inbox.models import Arrival
from training.nets.models import Net, Rigging, Tow

pytestmark = pytest.mark.django_db
Outcome = Arrival.Outcome


@pytest.fixture
def net(user):
    return make_net(user)


def tow_address(net):
    return f"/nets/{net.pk}/shine/new/"


def test_an_entry_is_taken_once_however_often_it_comes(as_user, user, net):
    key, entries = uuid.uuid4(), tow_entries()
    told = [send(as_user, user, tow_address(net), entries, key=key).json() for _ in range(2)]
    assert told[0] == told[1]
    assert told[0]["outcome"] == "taken"
    assert told[0]["where"] == f"/nets/{net.pk}/shine/"
    assert Tow.objects.count() == Arrival.objects.count() == 1
    arrival = Arrival.objects.get()
    assert ["speed", "2.8 kn"] in arrival.sent
    assert arrival.label == "Tow, Gray net"


def test_what_the_view_says_goes_with_the_answer_and_not_onto_the_next_page(as_user, user, net):
    told = send(
        as_user,
        user,
        f"/nets/{net.pk}/rigged/",
        {"key": str(uuid.uuid4()), "day": "2026-05-04"},
    ).json()
    assert "is rigged as planned" in told["words"]
    assert "Saved:" not in as_user.get("/arrived/").content.decode().partition("<h1>")[0]


def test_what_is_refused_is_kept_with_its_reasons_and_goes_back_into_its_form(as_user, user, net):
    entries = tow_entries(speed="2.8 furlongs", ground="The Fingers")
    told = send(as_user, user, tow_address(net), entries, shown=[["Speed", "2.8 furlongs"]]).json()
    assert told["outcome"] == "refused"
    assert [asked for asked, __ in told["problems"]] == ["Speed"]
    assert not Tow.objects.exists()
    arrival = Arrival.objects.get()
    page = as_user.get(told["page"]).content.decode()
    assert "2.8 furlongs" in page
    assert "Open the form with this in it" in page
    form = as_user.post(arrival.address, dict(arrival.again))
    assert "The Fingers" in form.content.decode()
    again = dict(arrival.again) | {"speed": "2.8 kn"}
    assert as_user.post(arrival.address, again).status_code == 302
    arrival.refresh_from_db()
    assert Tow.objects.get().typed["ground"] == "The Fingers"
    assert not arrival.is_open


def test_what_was_deleted_meanwhile_is_gone_and_what_was_typed_is_still_to_be_seen(
    as_user, user, net
):
    tow = make_tow(net)
    tow.put_aside()
    told = send(as_user, user, f"/nets/tows/{tow.pk}/", tow_entries(ground="The Fingers")).json()
    assert told["outcome"] == "gone"
    assert "The Fingers" in as_user.get(told["page"]).content.decode()


def test_what_has_no_place_any_more_is_kept_too(as_user, user):
    told = send(
        as_user, user, "/arrived/unplaced/", {"speed": "2"}, **{"Noted-Address": "/old/form/"}
    ).json()
    assert told["outcome"] == "gone"
    assert Arrival.objects.get().address == "/old/form/"


def test_nothing_is_taken_under_another_account_or_none(as_user, user, officer, client, net):
    assert send(as_user, officer, tow_address(net), tow_entries()).status_code == 409
    signed_out = send(client, user, tow_address(net), tow_entries())
    assert signed_out.status_code == 302
    assert not Tow.objects.exists()
    assert not Arrival.objects.exists()


def test_a_failure_of_the_site_leaves_nothing_so_that_it_can_be_sent_again(
    as_user, user, net, monkeypatch
):
    as_user.raise_request_exception = False
    key = uuid.uuid4()

    def fails(*args, **kwargs):
        raise RuntimeError

    with monkeypatch.context() as broken:
        broken.setattr("training.nets.log_views.led_on", fails)
        assert send(as_user, user, tow_address(net), tow_entries(), key=key).status_code == 500
    assert not Tow.objects.exists()
    assert not Arrival.objects.exists()
    told = send(as_user, user, tow_address(net), tow_entries(), key=key).json()
    assert told["outcome"] == "taken"


@pytest.mark.parametrize(
    "changes",
    [
        {"Noted": "no key"},
        {"Noted-At": "yesterday"},
        {"Noted-At": "0001-01-01T00:00:00+14:00"},
        {"Phone-Now": "9999-12-31T23:59:59-14:00"},
        {"Noted-Label": "%00%00"},
        {"Noted-Label": "x" * 5000},
    ],
)
def test_odd_headers_lose_nothing_and_break_nothing(as_user, user, net, changes):
    told = headers(user) | changes
    answer = as_user.post(tow_address(net), tow_entries(), headers=told)
    assert answer.status_code == (400 if "Noted" in changes else 200)
    assert Tow.objects.count() == ("Noted" not in changes)


@pytest.mark.parametrize("shown", ["no JSON", "[]", '{"shown": 3}', '{"shown": [["a"]]}', "{}"])
def test_what_was_shown_and_cannot_be_read_is_left_out(as_user, user, net, shown):
    values = tow_entries() | {"noted_shown": shown}
    answer = as_user.post(tow_address(net), values, headers=headers(user))
    assert answer.json()["outcome"] == "taken"
    assert Arrival.objects.get().shown == []


def test_a_clock_that_was_off_is_said_and_nothing_is_corrected(as_user, user, net):
    ahead = timezone.now() + timedelta(days=1, minutes=2)
    send(as_user, user, tow_address(net), tow_entries(), now=ahead)
    page = as_user.get("/arrived/").content.decode()
    assert "clock was 1 day ahead when it sent this. Check the day." in page.replace("&#x27;", "'")
    assert Arrival.objects.get().noted == ahead
    assert f"{Tow.objects.get().day}" == tow_entries()["day"]


def test_nobody_sees_or_settles_anothers(as_user, user, as_officer, net):
    send(as_user, user, tow_address(net), tow_entries(speed="?"))
    arrival = Arrival.objects.get()
    other = as_officer
    assert other.get(arrival.get_absolute_url()).status_code == 404
    assert other.post(f"/arrived/{arrival.pk}/done/").status_code == 404
    assert arrival.label not in other.get("/arrived/").content.decode()
    other.post("/nets/new/", net_entries() | {"arrival": str(arrival.pk)})
    arrival.refresh_from_db()
    assert arrival.is_open


def test_the_token_says_whose_turn_it_is(as_user, user, client):
    assert as_user.get("/arrived/token/").json()["person"] == user.pk
    assert client.get("/arrived/token/").json()["person"] == 0


# Two devices


def edit(net, **changes):
    return net_entries(seen=stamp(net.changed), **changes)


def test_a_row_that_changed_meanwhile_is_not_overwritten_and_both_stand_side_by_side(
    as_user, user, net
):
    address = f"/nets/{net.pk}/edit/"
    from_phone = edit(net, headrope="52 ft")
    as_user.post(address, edit(net, headrope="51 ft"))
    told = send(as_user, user, address, from_phone).json()
    net.refresh_from_db()
    assert told["outcome"] == "beside"
    assert net.typed["headrope"] == "51 ft"
    arrival = Arrival.objects.get()
    differing = [each[:3] for each in arrival.sides if each[3]]
    assert differing == [["Headrope", "51 ft", "52 ft"]]
    page = as_user.get(told["page"]).content.decode()
    assert "Keep what is on the site" in page
    as_user.post(arrival.instead, dict(arrival.in_its_place))
    net.refresh_from_db()
    arrival.refresh_from_db()
    assert net.typed["headrope"] == "52 ft"
    assert not arrival.is_open


def test_a_choice_between_two_is_asked_again_if_there_is_a_third(as_user, user, net):
    address = f"/nets/{net.pk}/edit/"
    from_phone = edit(net, headrope="52 ft")
    as_user.post(address, edit(net, headrope="51 ft"))
    send(as_user, user, address, from_phone)
    net.refresh_from_db()
    as_user.post(address, edit(net, headrope="53 ft"))
    arrival = Arrival.objects.get()
    answer = as_user.post(arrival.instead, dict(arrival.in_its_place))
    assert answer.url == arrival.get_absolute_url()
    net.refresh_from_db()
    arrival.refresh_from_db()
    assert net.typed["headrope"] == "53 ft"
    assert [each[:3] for each in arrival.sides if each[3]] == [["Headrope", "53 ft", "52 ft"]]


def test_both_sides_are_shown_as_they_were_typed_what_differs_first(as_user, user, net):
    address = f"/nets/{net.pk}/edit/"
    from_phone = edit(net, cable="12", dropper_length="10")
    as_user.post(address, edit(net, cable="13", dropper_length="10"))
    send(as_user, user, address, from_phone)
    sides = Arrival.objects.get().sides
    assert sides[0] == ["Ground cable", "13", "12", True]
    assert ["Length of a dropper", "10", "10", False] in sides
    tow = make_tow(net, day="2026-05-04")
    entries = tow_entries(seen="2026-01-01T00:00:00+00:00", day="2026-05-05")
    send(as_user, user, f"/nets/tows/{tow.pk}/", entries)
    first = Arrival.objects.first().sides[0]
    assert first == ["Day of the tow", "May 4, 2026", "May 5, 2026", True]


def test_keeping_what_the_site_has_keeps_the_other_to_be_seen(as_user, user, net):
    address = f"/nets/{net.pk}/edit/"
    from_phone = edit(net, headrope="52 ft")
    as_user.post(address, edit(net, headrope="51 ft"))
    told = send(as_user, user, address, from_phone).json()
    as_user.post(f"{told['page']}done/")
    net.refresh_from_db()
    assert net.typed["headrope"] == "51 ft"
    assert "52 ft" in as_user.get(told["page"]).content.decode()


def test_a_second_window_is_asked_too_and_once_for_an_impatient_thumb(as_user, net):
    address = f"/nets/{net.pk}/edit/"
    second = edit(net, headrope="52 ft")
    as_user.post(address, edit(net, headrope="51 ft"))
    answers = [as_user.post(address, second) for _ in range(2)]
    net.refresh_from_db()
    arrival = Arrival.objects.get()
    assert {answer.url for answer in answers} == {arrival.get_absolute_url()}
    assert net.typed["headrope"] == "51 ft"


def test_what_says_the_same_is_no_second_version(as_user, user, net):
    address = f"/nets/{net.pk}/edit/"
    same = edit(net, headrope="51 ft")
    as_user.post(address, same)
    assert send(as_user, user, address, same).json()["outcome"] == "taken"
    assert as_user.post(address, same).url == net.get_absolute_url()


def test_a_form_used_for_two_tows_makes_no_tow_vanish(as_user, user, net):
    key = str(uuid.uuid4())
    send(as_user, user, tow_address(net), tow_entries(key=key, ground="North"))
    told = send(as_user, user, tow_address(net), tow_entries(key=key, ground="South")).json()
    assert told["outcome"] == "beside"
    arrival = Arrival.objects.get(outcome="beside")
    assert arrival.instead == f"/nets/tows/{Tow.objects.get().pk}/"
    for _ in range(2):
        as_user.post(arrival.address, dict(arrival.again))
    assert sorted(tow.typed["ground"] for tow in Tow.objects.all()) == ["North", "South"]


def test_a_form_used_for_two_nets_makes_no_net_vanish(as_user, user):
    key = str(uuid.uuid4())
    as_user.post("/nets/new/", net_entries(key=key, name="Gray"))
    told = send(as_user, user, "/nets/new/", net_entries(key=key, name="Green")).json()
    assert told["outcome"] == "beside"
    arrival = Arrival.objects.get()
    as_user.post(arrival.instead, dict(arrival.in_its_place))
    assert Net.objects.get().name == "Green"


def test_rigged_by_a_plan_that_changed_since_is_asked_again(as_user, user, net):
    seen = stamp(net.changed)
    rigged = {"key": str(uuid.uuid4()), "day": "2026-05-04", "seen": seen}
    as_user.post(f"/nets/{net.pk}/edit/", edit(net, headrope="51 ft"))
    told = send(as_user, user, f"/nets/{net.pk}/rigged/", rigged).json()
    assert told["outcome"] == "refused"
    assert "Look at the plan as it is now" in told["problems"][0][1]
    assert not Rigging.objects.exists()


def test_a_tow_of_a_net_that_changed_since_is_taken_with_a_word_about_it(as_user, user, net):
    tow = tow_entries(seen=stamp(net.changed))
    as_user.post(f"/nets/{net.pk}/edit/", edit(net, headrope="51 ft"))
    told = send(as_user, user, tow_address(net), tow).json()
    assert told["outcome"] == "taken"
    assert "Check that it was made with that one" in told["words"]


@pytest.mark.django_db(transaction=True)
def test_two_windows_that_send_it_at_once_make_one(user):
    net, key, entries = make_net(user), uuid.uuid4(), tow_entries()
    outcomes, ready = [], threading.Barrier(3)

    def sends():
        client = Client()
        client.force_login(user)
        ready.wait()
        try:
            outcomes.append(send(client, user, tow_address(net), entries, key=key).json())
        finally:
            connection.close()

    threads = [threading.Thread(target=sends) for _ in range(3)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert len(outcomes) == 3
    assert all(each == outcomes[0] for each in outcomes)
    assert Tow.objects.count() == Arrival.objects.count() == 1
