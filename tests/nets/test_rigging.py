"""What is planned and what is rigged are two things."""

import uuid
from datetime import timedelta

import pytest
from django.urls import reverse
from django.utils import timezone

from rigs.words.units import FOOT
from tests.nets.conftest import make_net, make_tow, net_entries, tow_entries
from training.nets import shine_log
from training.nets.models import Rigging, Tow

pytestmark = pytest.mark.django_db

TODAY = timezone.localdate


def ago(days):
    return TODAY() - timedelta(days=days)


def say(client, net, day=None, key=None):
    """Press the button that says that ``net`` was rigged as planned."""
    told = {"key": key or str(uuid.uuid4()), "day": (day or TODAY()).isoformat()}
    return client.post(reverse("nets:net_rigged", args=[net.pk]), told)


def page_of(client, net, name="net"):
    return " ".join(client.get(reverse(f"nets:{name}", args=[net.pk])).content.decode().split())


def rename_wing(client, net, wing):
    """Change the plan: another wing puts the droppers elsewhere."""
    client.post(reverse("nets:net_edit", args=[net.pk]), net_entries(port_wing=wing))


def wing_of(rig):
    return round(rig.footrope.port_wing / FOOT)


def test_a_plan_is_not_rigged_until_its_owner_says_so(as_user, net):
    before = page_of(as_user, net)
    assert "I have now rigged it as planned" in before
    assert "by your word" not in before
    assert "assumed rigged as planned" in page_of(as_user, net, "log")
    say(as_user, net, ago(3))
    after = page_of(as_user, net)
    assert "I have now rigged it as planned" not in after
    assert f"Rigged as planned on {ago(3):%B} {ago(3).day}, {ago(3).year}, by your word" in after
    assert "Nobody checked it here" in after


def test_said_twice_by_one_button_it_is_said_once(as_user, net):
    key = str(uuid.uuid4())
    for _ in range(2):
        assert say(as_user, net, key=key).url == net.get_absolute_url()
    assert Rigging.objects.count() == 1


@pytest.mark.parametrize(
    ("told", "words"),
    [("2999-01-01", "in the future"), ("", "required"), ("soon", "could not read this date")],
)
def test_a_day_that_cannot_be_is_told_beside_it(as_user, net, told, words):
    answer = as_user.post(
        reverse("nets:net_rigged", args=[net.pk]), {"key": str(uuid.uuid4()), "day": told}
    )
    assert words in " ".join(answer.context["rigging_form"].errors["day"])
    assert not Rigging.objects.exists()


def test_a_changed_plan_is_not_what_hangs(as_user, net):
    say(as_user, net, ago(9))
    rename_wing(as_user, net, "24 ft")
    assert "The plan has changed since you rigged the net" in page_of(as_user, net)
    as_user.post(reverse("nets:tow_new", args=[net.pk]), tow_entries(day=TODAY().isoformat()))
    assert wing_of(Tow.objects.get().rig()) == 20
    say(as_user, net)
    as_user.post(reverse("nets:tow_new", args=[net.pk]), tow_entries(day=TODAY().isoformat()))
    as_user.post(reverse("nets:tow_new", args=[net.pk]), tow_entries(day=ago(5).isoformat()))
    # Each tow is one of the net as it was rigged on its day, whenever it is written down.
    assert [(tow.day, wing_of(tow.rig())) for tow in Tow.objects.order_by("pk")] == [
        (TODAY(), 20),
        (TODAY(), 24),
        (ago(5), 20),
    ]


def test_a_change_that_moves_nothing_is_still_what_hangs(as_user, net):
    say(as_user, net)
    net.name, net.goal = "Other", "grate"
    net.save()
    assert net.plan().planned == net.rigged().rig()
    assert "The plan has changed" not in page_of(as_user, net)


def test_a_tow_before_it_was_rigged_is_asked_about(as_user, net):
    say(as_user, net, ago(2))
    address = reverse("nets:tow_new", args=[net.pk])
    answer = as_user.post(address, tow_entries(day=ago(3).isoformat()))
    assert "You said that you rigged this net on" in " ".join(answer.context["form"].errors["day"])
    assert as_user.post(address, tow_entries(day=ago(2).isoformat())).status_code == 302


def test_a_tow_from_before_anybody_said_so_stays_as_it_was(as_user, net):
    tow = make_tow(net, day=ago(9).isoformat())
    rename_wing(as_user, net, "24 ft")
    say(as_user, net, ago(4))
    url = reverse("nets:tow_edit", args=[tow.pk])
    assert as_user.get(url).status_code == 200
    as_user.post(url, tow_entries(day=ago(8).isoformat()))
    tow.refresh_from_db()
    assert (tow.day, wing_of(tow.rig())) == (ago(8), 20)
    as_user.post(url, tow_entries(day=ago(1).isoformat()))
    tow.refresh_from_db()
    assert wing_of(tow.rig()) == 24


def test_advice_is_about_what_hangs(as_user, net):
    say(as_user, net, ago(3))
    make_tow(net, day=ago(2).isoformat())
    rename_wing(as_user, net, "24 ft")
    net.refresh_from_db()
    log = shine_log.read(net)
    assert not log.follows
    assert len(log.tuning.used) == 1
    assert "as you rigged it on" in page_of(as_user, net, "log")


def test_taken_back_it_can_be_said_again(as_user, net):
    say(as_user, net)
    rigging = Rigging.objects.get()
    as_user.post(reverse("nets:rigging_delete", args=[rigging.pk]))
    page = page_of(as_user, net)
    assert "I have now rigged it as planned" in page
    assert "Taken back: rigged on" in page
    assert net.rigged() is None
    as_user.post(reverse("nets:rigging_restore", args=[rigging.pk]))
    assert net.rigged() == rigging


def test_a_copy_is_not_rigged(as_user, net):
    say(as_user, net)
    assert net.copy(uuid.uuid4()).rigged() is None


def test_only_its_owner_can_say_so(as_staff, as_officer, as_user, user):
    net = make_net(user)
    assert say(as_staff, net).status_code == 404
    say(as_user, net)
    rigging = Rigging.objects.get()
    for name in ("rigging_delete", "rigging_restore"):
        answer = as_officer.post(reverse(f"nets:{name}", args=[rigging.pk]))
        assert answer.status_code == 404
    rigging.refresh_from_db()
    assert rigging.deleted is None
