"""The pages of the fleet that staff look at, found by the names of their addresses."""

from datetime import timedelta

from django.urls import reverse
from django.utils import timezone

from training.accounts import urls as accounts
from training.desk import urls as desk
from training.desk.calls.reasons import REASONS
from training.evidence import urls as evidence
from training.letters import urls as letters
from training.letters.models import Letter
from training.people import urls as people
from training.people.models import Attendance, Membership, Role, Session, User
from training.register import urls as register
from training.register.models import Harbor, Vessel

A_HALL = 300

# Addresses that are only posted to.
POSTED_TO = {
    "ask_phone_reset",
    "decide_phone_reset",
    "decide_request",
    "new_spare",
    "phone_off",
    "sign_out_elsewhere",
    "choose_signing_up",
    "call_give",
    "call_number",
    "call_off",
    "close_group",
    "count_others",
    "call_put_back",
    "call_take_back",
    "call_undo",
    "called",
    "crew_end",
    "event_correct",
    "event_withdraw",
    "import_confirm",
    "mark_came",
    "import_twins",
    "own_vessel_answer",
    "own_vessel_leave",
    "pair_delete",
    "pair_restore",
    "invite_again",
    "remove_text",
    "send_now",
    "texted",
    "spelling_remove",
    "stage_many_undo",
    "vessel_put_back",
    "vessel_remove",
}
# What one person owns or has under way: of one size whatever the fleet's.
OF_ONE = {
    "change_group",
    "change_session",
    "change_text",
    "email",
    "email_link",
    "group_calendar",
    "group_code",
    "import_columns",
    "import_draft",
    "import_mend_csv",
    "import_mend_xlsx",
    "import_questions",
    "import_undo",
    "own_vessels",
    "pair_edit",
    "pair_for",
    "pair_new",
    "pairs",
    "phone",
    "phone_set_up",
    "poster_pdf",
    "poster_png",
    "prove",
    "session_calendar",
    "session_code",
    "sign_in_code",
    "stop_mail",
    "stage_many_done",
    "welcome",
}
# The tables and pictures of charts, each of which its own page draws as well.
OF_CHARTS = {
    f"{chart}_{ending}"
    for chart in ("evidence", "uptake", "waiting")
    for ending in ("csv", "xlsx", "png")
}


def _member():
    return Membership.objects.order_by("pk").first()


def _group():
    return {"pk": _member().group_id}


def _session():
    """A session of the group, to which all who train came, or as many as fill a hall."""
    starts = timezone.now() - timedelta(hours=1)
    session, __ = Session.objects.get_or_create(
        group=_member().group,
        title="Shed day",
        defaults={"starts": starts, "ends": starts + timedelta(hours=3)},
    )
    for user in User.objects.filter(role=Role.TRAINEE).order_by("pk")[:A_HALL]:
        Attendance.objects.get_or_create(session=session, user=user)
    return {"pk": session.pk}


def _person():
    return {"pk": _member().user_id}


def _vessel():
    return {"pk": Vessel.objects.order_by("pk").first().pk}


ARGUMENTS = {
    "account": _person,
    "attempts_csv": _person,
    "attempts_xlsx": _person,
    "call": lambda: {"of": "person", **_person()},
    "calls_for": lambda: {"reason": REASONS[-2].key},
    "calls_for_csv": lambda: {"reason": REASONS[-2].key},
    "calls_for_xlsx": lambda: {"reason": REASONS[-2].key},
    "crew_new": _vessel,
    "event_new": _vessel,
    "group": _group,
    "group_live": _group,
    "group_members": _group,
    "letter": lambda: {"pk": Letter.objects.order_by("pk").first().pk},
    "missed_by": lambda: {"rule": "dropper_spacing", **_group()},
    "new_session": _group,
    "session": _session,
    "sign_in_sheet": _session,
    "harbor": lambda: {"pk": Harbor.objects.order_by("pk").first().pk},
    "trainee": _person,
    "trainee_record": _person,
    "trainee_rules": _person,
    "vessel": _vessel,
    "vessel_edit": _vessel,
    "vessel_merge": _vessel,
}


def staff_pages():
    """
    Return {name: path} of the pages of the fleet that staff look at.

    Raise KeyError for one that takes arguments and stands in none of the lists above.
    """
    left_out = POSTED_TO | OF_ONE | OF_CHARTS
    first = {"today": reverse("home"), "find": reverse("find", query={"q": "h"})}
    return first | {
        pattern.name: reverse(
            f"{part.app_name}:{pattern.name}",
            kwargs=ARGUMENTS[pattern.name]() if pattern.pattern.converters else {},
        )
        for part in (people, register, evidence, desk, letters, accounts)
        for pattern in part.urlpatterns
        if pattern.name not in left_out and not pattern.callback.__module__.endswith("people.views")
    }
