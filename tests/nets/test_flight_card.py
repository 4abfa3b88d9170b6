"""A net's card for sea: worked out by a worker, read without signal."""

import re

import pytest
from django.urls import reverse

from rigs.physics.flight import cases
from rigs.tuning import card as told
from rigs.tuning import in_flight
from tests.nets.conftest import make_net, make_tow
from tests.nets.test_flight import text
from training.deck.along import parts_for
from training.nets import card
from training.nets.models import SeaCard
from training.work import queue
from training.work.models import Job

pytestmark = pytest.mark.django_db


@pytest.fixture(autouse=True)
def small(monkeypatch):
    """Draw few nets and work out two changes: the rest is alike."""
    monkeypatch.setattr(cases, "COUNT", 4)
    monkeypatch.setattr(told, "CHANGES", told.CHANGES[:2])
    in_flight.cases.cache_clear()
    yield
    in_flight.cases.cache_clear()


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
    assert len(re.findall(r"of 4 go that way", said)) == 2
    assert "nine in ten: up" in said


def test_asked_twice_it_is_worked_out_once(as_user, net):
    ask(as_user, net)
    ask(as_user, net)
    assert Job.objects.filter(kind="flight-card").count() == 1


def test_after_a_change_of_the_net_or_its_log_the_card_does_not_hold(as_user, net):
    ask(as_user, net)
    work()
    assert card.shown(net, card.known(net)).holds
    make_tow(net)
    said = text(page(as_user, net))
    assert "It does not hold any more." in said
    assert "of 4 go that way" not in said


def test_a_net_that_cannot_be_flown_says_what_is_lacking(as_user, user):
    net = make_net(user, float_count="", float_size="")
    ask(as_user, net)
    work()
    assert not SeaCard.objects.exists()
    assert "Not entered yet" in text(page(as_user, net))


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
