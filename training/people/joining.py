"""How a person comes to have an account."""

from django.db import IntegrityError, transaction

from .models import Membership, Role, User


class EmailTaken(Exception):
    """Another account has this e-mail already."""


def join(name, email, password, group):
    """
    Return a new user with the role that ``group`` gives, and a member of it.

    Raise EmailTaken if there is an account with ``email``, even one that was made
    a moment ago by the same form sent twice.
    """
    try:
        with transaction.atomic():
            user = User.objects.create_user(email, password, name=name, role=group.role)
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
