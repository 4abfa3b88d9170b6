"""A net's card for sea: worked out by a worker, read without signal."""

import re
from datetime import date
from uuid import uuid4

import pytest
from django.urls import reverse

from rigs.tuning import card as told
from tests.nets.conftest import make_net, make_tow
from tests.nets.test_flight import text
from training.deck.along import parts_for
from training.nets import card
from training.nets.models import SeaCard
from training.work import queue
from training.work.models import Job

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("few_cases")]


@pytest.fixture(autouse=True)
def few_changes(monkeypatch):
    monkeypatch.setattr(told, "CHANGES", told.CHANGES[:2])


def page(client, net, **query):
    return client.get(reverse("nets:flight_card", args=[net.pk]), query)


def ask(client, net):
    return client.post(reverse("nets:flight_card_ask", args=[net.pk]))


def work():
    """Do what waits, as a worker would."""
    for job in Job.objects.filter(state=Job.State.WAITING):
        queue.run(job.pk)


def test_a_card_is_asked_for_worked_out_and_read(as_user, net):
    assert "None yet." in text(page(as_user, net))
    ask(as_user, net)
    assert "0 of 2 changes are done" in text(page(as_user, net))
    work()
    said = text(page(as_user, net))
    assert "Worked out on" in said
    assert len(re.findall(r"of 4 nets that may be yours go up", said)) == 2
    assert "Nine in ten go Port wing end up" in said


def test_asked_twice_it_is_worked_out_once(as_user, net):
    ask(as_user, net)
    ask(as_user, net)
    assert Job.objects.filter(kind="flight-card").count() == 1


def test_asked_twice_at_one_moment_it_is_worked_out_once(net, user, monkeypatch):
    monkeypatch.setattr(card, "_latest", lambda net: None)
    assert card.ask(net, user) == card.ask(net, user)
    assert Job.objects.count() == 1


def test_a_card_that_holds_is_there_while_it_is_worked_out_again(as_user, net):
    ask(as_user, net)
    work()
    ask(as_user, net)
    said = text(page(as_user, net))
    assert "0 of 2 changes are done" in said
    assert len(re.findall(r"of 4 nets that may be yours go up", said)) == 2
    make_tow(net)
    said = text(page(as_user, net))
    assert "nets that may be yours" not in said
    assert "0 of 2 changes are done" in said


def test_after_a_change_of_the_net_or_its_log_the_card_does_not_hold(as_user, net):
    ask(as_user, net)
    work()
    assert card.shown(net, card.known(net)).holds
    make_tow(net)
    said = text(page(as_user, net))
    assert "The card does not hold any more." in said
    assert "nets that may be yours" not in said


def test_a_net_that_cannot_be_flown_says_what_is_lacking(as_user, user):
    net = make_net(user, float_count="", float_size="")
    ask(as_user, net)
    work()
    assert not SeaCard.objects.exists()
    assert "Not entered yet" in text(page(as_user, net))


def test_what_was_lacking_is_not_said_of_a_net_that_has_it(as_user, user):
    net = make_net(user, float_count="", float_size="")
    ask(as_user, net)
    work()
    net.measures |= make_net(user).measures
    net.save()
    assert "Not entered yet" not in text(page(as_user, net))


def test_work_that_was_killed_goes_on_from_where_it_was(as_user, net, monkeypatch):
    ask(as_user, net)
    made = killed_after_one(monkeypatch)
    work()
    assert made == list(told.CHANGES)
    assert [row["change"] for row in SeaCard.objects.get().rows] == [e.key for e in made]


def test_work_on_a_net_changed_in_between_begins_again(as_user, net, monkeypatch):
    ask(as_user, net)
    made = killed_after_one(monkeypatch)
    make_tow(net)
    work()
    assert made == [told.CHANGES[0], *told.CHANGES]
    assert card.shown(net, card.known(net)).holds
    assert "Worked out on" in text(page(as_user, net))


def killed_after_one(monkeypatch):
    """Work until the second change, at which the worker dies; return the list of what is made."""
    made, of_change = [], told.of_change

    def once(mend, *rest):
        if made:
            raise SystemExit
        made.append(mend)
        return of_change(mend, *rest)

    def again(mend, *rest):
        made.append(mend)
        return of_change(mend, *rest)

    monkeypatch.setattr(told, "of_change", once)
    with pytest.raises(SystemExit):
        work()
    monkeypatch.setattr(told, "of_change", again)
    return made


def test_the_card_says_for_which_rig_it_was_worked_out(as_user, net):
    ask(as_user, net)
    work()
    assert "You have not said yet that it is rigged so." in text(page(as_user, net))
    net.say_rigged(uuid4(), date(2026, 9, 1))
    said = text(page(as_user, net))
    assert "as you rigged it on September 1, 2026, by your word." in said
    assert "not said yet" not in said


def test_it_is_taken_along_once_it_is_there(as_user, user, net):
    address = reverse("nets:flight_card", args=[net.pk])

    def along():
        return [each for part in parts_for(user, net.created.date()) for each in part.more]

    assert address not in along()
    ask(as_user, net)
    work()
    assert address in along()


def test_nobody_asks_for_or_sees_the_card_of_another_ones_net(as_officer, net):
    assert page(as_officer, net).status_code == 404
    assert ask(as_officer, net).status_code == 404
    assert not Job.objects.exists()
