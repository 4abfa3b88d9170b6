"""The first page of trainees and officers: one next step, and what is theirs in words that hold."""

import re
import uuid
from datetime import timedelta

import pytest
from django.urls import reverse
from django.utils import timezone

from tests.certification.candidates import begin, make_requirements
from tests.certification.certificate_factory import make_exam
from tests.lessons.test_progress import know_all, pass_all, read_all, right_about
from training.certification import certificates, exams
from training.certification.models import Certificate
from training.nets.models import Net, Tow
from training.register.models import Crew, Vessel

NONE_YET = ("None yet. Enter a few lengths", "None yet. Say which vessel")


def page_of(client):
    response = client.get("/")
    assert response.status_code == 200
    return re.sub(r"\s+", " ", response.content.decode())


def make_net(user, name="Two-seam"):
    return Net.objects.create(owner=user, key=uuid.uuid4(), name=name, goal="no-sweep")


def make_tow(net, day):
    return Tow.objects.create(net=net, key=uuid.uuid4(), day=day, net_was=net.told)


def make_vessel(name):
    return Vessel.objects.create(name=name, harbor="Kettle Harbor", length=15)


def test_who_has_nothing_yet_is_told_how_to_begin(as_user):
    page = page_of(as_user)
    for words in NONE_YET:
        assert words in page
    assert "No exam is open" in page
    assert "My log" not in page
    assert "What I get wrong" not in page
    assert page.count('class="next-step') == 1


def test_nets_are_told_as_planned_rigged_or_changed_since(as_user, user, staff):
    net = make_net(user)
    make_net(staff, "Not mine")
    assert "Two-seam: planned. You have not said that it is rigged." in page_of(as_user)
    said = net.say_rigged(uuid.uuid4(), timezone.localdate())
    assert "Two-seam: rigged as planned on" in page_of(as_user)
    net.goal = "grate"
    net.save()
    assert "and the plan changed since" in page_of(as_user)
    said.put_aside()
    assert "You have not said that it is rigged" in page_of(as_user)
    assert "Not mine" not in page_of(as_user)
    net.put_aside()
    assert NONE_YET[0] in page_of(as_user)


def test_the_log_counts_the_tows_that_are_there(as_user, user):
    net = make_net(user)
    assert "No tow yet." in page_of(as_user)
    today = timezone.localdate()
    first = make_tow(net, today - timedelta(days=3))
    assert "1 tow. It was on" in page_of(as_user)
    make_tow(net, today)
    assert "2 tows. The last was on" in page_of(as_user)
    first.put_aside()
    assert "1 tow. It was on" in page_of(as_user)


def test_of_a_certificate_the_one_that_counts_is_told(as_user, user, staff):
    requirements = make_requirements()
    now = timezone.now()
    old = certificates.issue(make_exam(user, requirements, handed_in=now - timedelta(days=900)))
    Certificate.objects.filter(pk=old.pk).update(expires=now - timedelta(days=1))
    page = page_of(as_user)
    assert f"{requirements.title}: expired on" in page
    assert "Take the exam again" in page
    new = certificates.issue(make_exam(user, requirements, handed_in=now))
    page = page_of(as_user)
    assert f"{requirements.title}: valid until" in page
    assert "expired on" not in page
    certificates.revoke(new, "The exam had a wrong key in two questions.", staff)
    assert f"{requirements.title}: withdrawn." in page_of(as_user)


def test_only_vessels_of_today_are_mine(as_user, user):
    berth = Crew.objects.create(vessel=make_vessel("Dunlin"), user=user, part="captain")
    assert "Dunlin, Kettle Harbor. You are listed as captain." in page_of(as_user)
    berth.until = timezone.localdate()
    berth.save()
    assert NONE_YET[1] in page_of(as_user)


def test_rules_missed_are_counted_and_three_of_them_named(as_user, user):
    right_about(user, "off_bottom", right=False)
    page = page_of(as_user)
    assert "1 rule you missed the last time." in page
    assert "more missed" not in page
    keys = ("no_sweep", "dropper_spacing", "dropper_length", "float_spacing")
    right_about(user, *keys, right=False)
    page = page_of(as_user)
    assert "5 rules you missed the last time." in page
    assert page.count("Practice it<") == 3
    assert "(2 more missed)" in page
    right_about(user, "off_bottom")
    assert "4 rules you missed the last time." in page_of(as_user)


def test_the_next_step_goes_from_the_exam_to_ones_own_net(as_user, user):
    requirements = make_requirements()
    read_all(user)
    pass_all(user)
    know_all(user)
    assert "Now take the exam" in page_of(as_user)
    exam = begin(user, requirements)
    page = page_of(as_user)
    assert "You have an exam open" in page
    assert reverse("certification:review", args=[exam.pk]) in page
    exams.hand_in(exam)
    certificates.issue(make_exam(user, requirements, handed_in=timezone.now()))
    page = page_of(as_user)
    assert "Now take the exam" not in page
    assert "Now use it: enter your own net" in page
    make_net(user)
    assert "Practice some more" in page_of(as_user)


def test_an_officer_sees_sheets_and_rounds(as_officer, as_user):
    page = page_of(as_officer)
    assert "None on the site. A phone may hold more." in page
    assert "No round is open." in page
    assert "Judging rounds</h2>" not in page_of(as_user)


@pytest.mark.parametrize("held", [False, True])
def test_before_an_exam_it_is_said_what_it_takes(as_user, user, held):
    requirements = make_requirements(minutes=40, attempts_allowed=1, waiting_days=3)
    if held:
        certificates.issue(make_exam(user, requirements, handed_in=timezone.now()))
    place = reverse("certification:begin", args=[requirements.slug])
    page = re.sub(r"\s+", " ", as_user.get(place).content.decode())
    assert "40 minutes." in page
    assert "1 of 1 attempts left." in page
    assert "you have no more" in page
    assert "You then wait" not in page
    assert ("You hold this certificate until" in page) is held
    assert not user.exams.filter(handed_in=None).exists()
