"""Saying what one expects of a net, and seeing what the rules say."""

import uuid

import pytest
from django.db import IntegrityError, transaction
from django.urls import reverse

from rigs.rules.judge import FAIL, NOT_MEASURED, PASS
from tests.nets.conftest import make_net
from training.predicting import remembering, subject
from training.predicting.comparing import BROKEN, MET, UNSURE, compare
from training.predicting.models import Prediction
from training.privacy.owned import owned
from training.recall import memory
from training.recall.models import RuleMemory

pytestmark = pytest.mark.django_db

SEED = 20
DRAWN = reverse("predicting:drawn", args=[SEED])
OUTCOME = {PASS: MET, FAIL: BROKEN}


def findings_of(net):
    return {each.key: each for each in subject.of_net(net).findings}


def posted(findings, said, key=None):
    """Return what a browser posts: ``said`` is {key of a rule: what is said of it}."""
    fields = {f"said_{each}": said.get(each, UNSURE) for each in findings}
    return {"key": str(key or uuid.uuid4()), **fields}


def opposite(finding):
    return {PASS: BROKEN, FAIL: MET}[finding.outcome]


def words_of(response):
    assert response.status_code == 200
    return " ".join(response.content.decode().split())


@pytest.fixture
def net(user):
    return make_net(user)


@pytest.fixture
def page(net):
    return reverse("predicting:net", args=[net.pk])


def test_the_verdict_is_not_on_the_page_that_asks(as_user, net, page):
    shown = words_of(as_user.get(page))
    for finding in findings_of(net).values():
        assert finding.sentence not in shown
    assert "Fault 1" not in shown  # nor in the words of the drawing
    assert 'class="mark' not in shown
    assert shown.count("<fieldset") == len(findings_of(net))


def test_custom_is_not_asked(as_user, net, page):
    assert "dropper_length" not in findings_of(net)
    assert 'name="said_dropper_length"' not in words_of(as_user.get(page))


def test_what_was_said_is_shown_beside_what_is(as_user, net, page):
    findings = findings_of(net)
    broken = next(each for each in findings.values() if each.outcome == FAIL)
    met = next(each for each in findings.values() if each.outcome == PASS)
    unmeasured = next(each for each in findings.values() if each.outcome == NOT_MEASURED)
    said = {broken.key: MET, met.key: MET, unmeasured.key: BROKEN}
    shown = words_of(as_user.post(page, posted(findings, said), follow=True))
    assert "1 of 2</strong> as you said" in shown
    assert "You said met; it is broken." in shown
    assert "You said met, and it is." in shown
    assert "You said broken. It is not measured." in shown
    assert "You were not sure" in shown
    assert shown.index("Not as you said") < shown.index("As you said")


def test_what_was_mispredicted_is_remembered_as_missed_and_nothing_else(as_user, user, net, page):
    findings = findings_of(net)
    wrong = [each for each in findings.values() if each.outcome in OUTCOME][:2]
    right = [each for each in findings.values() if each.outcome in OUTCOME][2]
    unmeasured = next(each for each in findings.values() if each.outcome == NOT_MEASURED)
    said = {each.key: opposite(each) for each in wrong}
    said |= {right.key: OUTCOME[right.outcome], unmeasured.key: BROKEN}
    as_user.post(page, posted(findings, said))
    rows = RuleMemory.objects.filter(user=user, rulebook_name="no-sweep")
    assert {row.key for row in rows} == {each.key for each in wrong}
    assert not any(row.right_last for row in rows)
    # Made anew from what was said, it comes out the same.
    before = set(rows.values_list("key", "asked", "right", "due"))
    memory.rebuild([user.pk])
    assert set(rows.all().values_list("key", "asked", "right", "due")) == before


def test_sent_twice_it_is_saved_and_counted_once(as_user, user, net, page):
    findings = findings_of(net)
    wrong = next(each for each in findings.values() if each.outcome in OUTCOME)
    answer = posted(findings, {wrong.key: opposite(wrong)})
    first, second = as_user.post(page, answer), as_user.post(page, answer)
    assert first.url == second.url
    assert Prediction.objects.count() == 1
    assert set(RuleMemory.objects.values_list("asked", flat=True)) == {1}


def test_the_database_holds_one_for_one_form(user, net):
    fields = {
        "user": user,
        "key": uuid.uuid4(),
        "measures": net.measures,
        "rulebook_name": "no-sweep",
        "rulebook_version": "1",
        "said": {},
    }
    Prediction.objects.create(**fields)
    with pytest.raises(IntegrityError), transaction.atomic():
        Prediction.objects.create(**fields)
    with pytest.raises(IntegrityError), transaction.atomic():
        Prediction.objects.create(**{**fields, "key": uuid.uuid4(), "measures": None})


def test_what_was_said_stays_beside_the_net_as_it_was(as_user, user, net, page):
    findings = findings_of(net)
    wrong = next(each for each in findings.values() if each.outcome in OUTCOME)
    url = as_user.post(page, posted(findings, {wrong.key: opposite(wrong)})).url
    before = as_user.get(url).context["compared"]
    net.measures = {**net.measures, "headrope": net.measures["headrope"] + 3}
    net.save()
    assert as_user.get(url).context["compared"] == before
    net.delete()
    assert "Not as you said" in words_of(as_user.get(url))


def test_nothing_said_is_not_saved(as_user, net, page):
    response = as_user.post(page, posted(findings_of(net), {}))
    assert "Say of at least one rule" in words_of(response)
    assert not Prediction.objects.exists()


@pytest.mark.parametrize("said", ["perhaps", "not measured"])
def test_what_is_no_answer_is_refused(as_user, net, page, said):
    key = next(iter(findings_of(net)))
    assert as_user.post(page, posted([key], {key: said})).status_code == 200
    assert not Prediction.objects.exists()


def test_only_its_owner_sees_it(as_user, as_officer, as_staff, client, net, page):
    findings = findings_of(net)
    wrong = next(each for each in findings.values() if each.outcome in OUTCOME)
    url = as_user.post(page, posted(findings, {wrong.key: opposite(wrong)})).url
    for other in (as_officer, as_staff):
        assert other.get(url).status_code == 404
        assert other.get(page).status_code == 404
        assert other.post(page, posted(findings, {wrong.key: MET})).status_code == 404
    assert client.get(url).status_code == 302
    assert client.get(page).status_code == 302


def test_it_is_part_of_what_a_person_takes_out(as_user, user):
    findings = [each.key for each in subject.drawn(SEED).findings]
    as_user.post(DRAWN, posted(findings, {findings[0]: MET}))
    assert Prediction in {rows.model for rows in owned(user)}


# A drawn net ------------------------------------------------------------------------------


def test_a_visitor_tries_a_drawn_net_and_nothing_is_saved(client):
    start = client.get(reverse("predicting:start"))
    assert client.get(start.url).status_code == 200
    findings = {each.key: each for each in subject.drawn(SEED).findings}
    said = {key: OUTCOME[each.outcome] for key, each in findings.items()}
    shown = words_of(client.post(DRAWN, posted(findings, said)))
    assert f"{len(findings)} of {len(findings)}</strong> as you said" in shown
    assert "Not saved" in shown
    assert not Prediction.objects.exists()


def test_the_same_address_gives_the_same_net(client):
    first, second = client.get(DRAWN), client.get(DRAWN)
    assert first.context["subject"] == second.context["subject"]
    assert client.get(reverse("predicting:drawn", args=[2**31])).status_code == 404


def test_a_drawn_net_of_someone_signed_in_is_saved(as_user, user):
    findings = {each.key: each for each in subject.drawn(SEED).findings}
    key, wrong = next(iter(findings.items()))
    as_user.post(DRAWN, posted(findings, {key: opposite(wrong)}))
    prediction = Prediction.objects.get()
    assert subject.of_prediction(prediction).rig == subject.drawn(SEED).rig
    assert remembering.asked(prediction).answers == {key: False}


def test_drawn_nets_are_sound_in_some_and_not_in_others():
    verdicts = {bool(subject.drawn(seed).verdict.failed_keys) for seed in range(20)}
    assert verdicts == {True, False}


# Offered ------------------------------------------------------------------------------


def test_it_is_offered_where_one_begins(as_user, net, page):
    start = reverse("predicting:start")
    assert start in words_of(as_user.get(reverse("exercises:list")))
    assert page in words_of(as_user.get(reverse("nets:net", args=[net.pk])))
    assert page in words_of(as_user.get(reverse("nets:nets")))


def test_a_comparison_says_each_case_in_words():
    findings = subject.drawn(SEED).findings
    passed = [each for each in findings if each.outcome == PASS][:1]
    words = {
        said: next(iter(compare(passed, {passed[0].key: said})[place])).words
        for place, said in ((0, BROKEN), (1, UNSURE), (2, MET))
    }
    assert words == {
        BROKEN: "You said broken; it is met.",
        UNSURE: "You were not sure: it is met.",
        MET: "You said met, and it is.",
    }
