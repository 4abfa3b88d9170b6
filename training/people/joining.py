"""How a person comes to have an account."""

from datetime import timedelta

from django.db import IntegrityError, transaction
from django.utils import timezone

from . import notices
from .models import Membership, Role, SignUpChoice, User

MOST_WITHOUT_CODE = 100
"""How many may sign up in a day without a code, by whatever connection."""


class EmailTaken(Exception):
    """Another account has this e-mail already."""


def needs_code():
    """Return whether nobody signs up without a group's code: the office decides."""
    return not SignUpChoice.objects.without_code()


def is_full_without_code():
    """Return whether no more can sign up without a code for now."""
    recent = User.objects.filter(joined__gt=timezone.now() - timedelta(days=1), memberships=None)
    return recent.filter(role=Role.TRAINEE)[:MOST_WITHOUT_CODE].count() >= MOST_WITHOUT_CODE


def join(name, email, password, group=None):
    """
    Return a new user with the role that ``group`` gives, and a member of it.

    Without one the user is a trainee in no group.

    Raise EmailTaken if there is an account with ``email``, even one that was made
    a moment ago by the same form sent twice.
    """
    try:
        with transaction.atomic():
            role = group.role if group else Role.TRAINEE
            user = User.objects.create_user(email, password, name=name, role=role)
            if group:
                Membership.objects.create(group=group, user=user)
    except IntegrityError as error:
        raise EmailTaken from error
    return user


@transaction.atomic
def join_too(user, group):
    """
    Have ``user``, who has an account, be a member of ``group`` too; twice is once.

    A trainee becomes an officer by the code of an officers' group; nobody loses a role.
    """
    Membership.objects.get_or_create(group=group, user=user)
    if user.role == Role.TRAINEE and group.role == Role.OFFICER:
        user.role = Role.OFFICER
        user.save(update_fields=["role"])
        notices.tell(user, notices.role_changed(user), user)
