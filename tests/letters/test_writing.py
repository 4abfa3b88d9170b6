"""Writing to a group, a list or one person: looked at first, sent once, noted, counted."""

import smtplib
import uuid
from io import StringIO

import pytest
from django.core import mail
from django.core.management import CommandError, call_command
from django.urls import reverse

from tests.letters.conftest import WRITE
from tests.work.conftest import work_off
from training.letters import posting, sending
from training.letters.models import Letter, LetterTo
from training.people import wanting
from training.people.models import Group, Membership, Reach, User
from training.work.models import Job

pytestmark = pytest.mark.django_db

State = LetterTo.State


def entries(step, **changes):
    return {
        "step": step,
        "key": str(uuid.uuid4()),
        "subject": "Boots for {name}",
        "body": "Hello {name},\n\nbring boots.",
        **changes,
    }


def write(client, query, form):
    return client.post(f"{WRITE}?{query}", form)


def states(letter):
    """Return {name: state} of the rows of ``letter``, counted by hand."""
    return {row.user.name: row.state for row in letter.rows.select_related("user")}


def run():
    out = StringIO()
    call_command("send_letters", stdout=out, stderr=out)
    return out.getvalue()


def test_the_letter_is_looked_at_before_it_goes(as_staff, group, crew):
    page = write(as_staff, f"group={group.pk}", entries("preview")).content.decode()
    assert "Boots for Wren" in page
    assert "Send to 1 person<" in page
    assert "Kit Larkham: wants no email" in page
    assert "Odell Rudd: account is closed" in page
    assert not mail.outbox
    assert not Letter.objects.exists()


def test_a_double_tap_sends_once_and_who_is_left_out_is_counted(as_staff, group, crew):
    form = entries("send")
    first = write(as_staff, f"group={group.pk}", form)
    second = write(as_staff, f"group={group.pk}", form)
    letter = Letter.objects.get()
    assert first["Location"] == second["Location"] == reverse("letters:letter", args=[letter.pk])
    (sent,) = mail.outbox
    assert (sent.to, sent.subject) == (["wren@example.com"], "Boots for Wren")
    assert sent.body.startswith("Hello Wren,\n\nbring boots.")
    assert states(letter) == {
        "Wren Tolliver": State.SENT,
        "Kit Larkham": State.LEFT_OUT,
        "Odell Rudd": State.LEFT_OUT,
    }
    page = as_staff.get(first["Location"]).content.decode()
    assert "Sent to 1 person." in page
    assert "2 left out." in page
    assert "Boots for" in as_staff.get(reverse("letters:letters")).content.decode()
    run()
    assert len(mail.outbox) == 1
    # The same again is pointed out; to somebody who did not get it, it is not.
    again = "1 of them got an email with this subject in the last 30 days."
    group_page = write(as_staff, f"group={group.pk}", entries("preview")).content.decode()
    assert again in group_page
    other = write(as_staff, f"group={group.pk}", entries("preview", subject="Gloves"))
    assert "with this subject" not in other.content.decode()


def test_nobody_to_send_to_sends_nothing_and_says_so(as_staff, group, user):
    User.objects.update(wants_mail=False)
    page = write(as_staff, f"group={group.pk}", entries("send"))
    assert "Nobody here gets an email." in page.content.decode()
    assert not Letter.objects.exists()


def test_a_list_is_written_to_as_it_was_narrowed(as_staff, group, crew):
    other = User.objects.create_user("wrenna@example.com", name="Wrenna Vale")
    write(as_staff, "name=wren", entries("send"))
    assert {each.to[0] for each in mail.outbox} == {"wren@example.com", other.email}
    # What was typed to find people may be a name: it is not kept.
    assert "wren" not in Letter.objects.get().to.lower()


def test_more_than_one_letter_can_hold_is_refused(as_staff, group, crew, monkeypatch):
    monkeypatch.setattr("training.letters.recipients.MOST", 2)
    page = write(as_staff, f"group={group.pk}", entries("send"))
    assert page.status_code == 422
    assert "more than 2 people" in page.content.decode()
    assert not mail.outbox


@pytest.mark.parametrize(
    ("field", "text", "says"),
    [
        ("body", "Hello {nmae}", "{nmae}"),
        ("body", "Hello {name", "without its other half"),
        ("subject", "About {session}", "{session}"),
        ("body", "", "required"),
    ],
)
def test_a_gap_that_nothing_fills_is_refused(as_staff, group, user, field, text, says):
    page = write(as_staff, f"group={group.pk}", entries("send", **{field: text}))
    assert says in str(page.context["form"].errors[field])
    assert not mail.outbox


def test_a_name_with_braces_fills_nothing_else(as_staff, user):
    User.objects.filter(pk=user.pk).update(name="{name}{site}")
    write(as_staff, f"person={user.pk}", entries("send"))
    assert mail.outbox[0].body.startswith("Hello {name}{site},")


def test_a_letter_to_many_goes_by_a_worker_and_to_each_once(as_staff, group, user):
    for number in range(posting.AT_ONCE + 1):
        hand = User.objects.create_user(f"hand{number}@example.com", name=f"Hand {number}")
        Membership.objects.create(group=group, user=hand)
    url = write(as_staff, f"group={group.pk}", entries("send"))["Location"]
    letter = Letter.objects.get()
    assert (len(mail.outbox), sending.waiting().count()) == (0, posting.AT_ONCE + 2)
    assert "A worker sends it" in as_staff.get(url).content.decode()
    # Who taps again while it waits has nothing sent twice.
    as_staff.post(f"{url}send/")
    # What somebody chooses meanwhile holds.
    last = letter.rows.order_by("-pk").first().user
    User.objects.filter(pk=last.pk).update(wants_mail=False)
    work_off()
    run()
    assert len(mail.outbox) == len({each.to[0] for each in mail.outbox}) == posting.AT_ONCE + 1
    assert states(letter)[last.name] == State.LEFT_OUT
    assert posting.LetterWork().said(Job.objects.get()) == f"{posting.AT_ONCE + 1} mails were sent."


def test_a_server_that_is_down_loses_nothing(as_staff, group, user, monkeypatch):
    def down(*args):
        raise smtplib.SMTPServerDisconnected("gone")

    monkeypatch.setattr(wanting, "send", down)
    page = as_staff.get(write(as_staff, f"group={group.pk}", entries("send"))["Location"])
    assert "Sent to nobody so far." in page.content.decode()
    assert "1 waits." in page.content.decode()
    with pytest.raises(CommandError, match="could not be sent"):
        run()
    monkeypatch.undo()
    run()
    assert len(mail.outbox) == 1


def test_a_refused_address_is_said_and_not_tried_by_itself(as_staff, group, user, monkeypatch):
    def refuse(*args):
        raise smtplib.SMTPRecipientsRefused({user.email: (550, b"No such user")})

    monkeypatch.setattr(wanting, "send", refuse)
    url = write(as_staff, f"group={group.pk}", entries("send"))["Location"]
    assert "1 address was refused." in as_staff.get(url).content.decode()
    monkeypatch.undo()
    run()
    assert not mail.outbox
    as_staff.post(f"{url}send/", {"again": "yes"})
    assert len(mail.outbox) == 1


def test_text_messages_are_made_ready_one_by_one_and_marked(as_staff, group, crew):
    wren, quiet, _ = crew
    User.objects.filter(pk=quiet.pk).update(phone="508-555-0142")
    User.objects.filter(pk=wren.pk).update(phone="508-555-0100 x7")
    form = entries("send", body="{name}, bring boots & gloves?")
    url = write(as_staff, f"group={group.pk}&means=phone", form)["Location"]
    page = as_staff.get(url).content.decode()
    # RFC 5724, section 2.2: the body is percent-encoded.
    assert 'href="sms:5085550142?body=Kit%2C%20bring%20boots%20%26%20gloves%3F"' in page
    assert "1 to text." in page
    assert not mail.outbox
    letter = Letter.objects.get()
    assert states(letter)["Wren Tolliver"] == State.LEFT_OUT
    row = letter.rows.get(user=quiet)
    mark = reverse("letters:texted", args=[letter.pk, row.pk])
    for said, state in (("yes", State.SENT), ("yes", State.SENT), ("no", State.WAITING)):
        as_staff.post(mark, {"texted": said})
        assert states(letter)["Kit Larkham"] == state
    as_staff.post(reverse("letters:texted", args=[letter.pk, letter.rows.first().pk]), {})
    run()
    assert not mail.outbox


def test_staff_write_to_and_read_of_their_own_people_alone(as_staff, staff, group, user, officer):
    write(as_staff, f"person={officer.pk}", entries("send"))
    theirs = Letter.objects.get()
    Letter.objects.update(by=officer)
    Reach.objects.create(user=staff, harbor=group.harbor)
    far = Group.objects.create(name="Eastlight crews", harbor="Eastlight")
    for query in (f"person={officer.pk}", f"group={far.pk}", "person=x", "session=9", "role=x"):
        assert write(as_staff, query, entries("send")).status_code == 404
    write(as_staff, "", entries("send"))
    assert LetterTo.objects.exclude(letter=theirs).get().user == user
    assert as_staff.get(reverse("letters:letter", args=[theirs.pk])).status_code == 404


def test_letters_are_for_staff(as_user, as_officer, user):
    for client in (as_user, as_officer):
        assert client.get(WRITE, {"person": user.pk}).status_code == 403
        assert client.get(reverse("letters:letters")).status_code == 403
