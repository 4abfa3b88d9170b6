"""What was tried without an account, put on the record of whoever signs up: once."""

from django.contrib import messages
from django.db import transaction
from django.urls import reverse
from django.utils.translation import gettext as _

from training.exercises import handing
from training.exercises.models import Assignment
from training.nets import entering
from training.people import arriving
from training.people.models import User

from .kept import Kept


@arriving.brings
def bring(request):
    """Put what the session keeps on the record of ``request.user``, and keep it no more."""
    kept = Kept(request.session)
    if not kept:
        return
    told = kept.told
    put_on_record(request.user, kept)
    kept.forget()
    messages.success(request, _("Now on your record: {told}.").format(told=told))


@transaction.atomic
def put_on_record(user, kept):
    """
    Make real attempts and a real net of what is ``kept``; those there are already stay.

    They count from now on: what was done before somebody had an account changes no past day.
    """
    # Held, so that the same form sent twice at once finds what the first has made.
    User.objects.select_for_update(no_key=True).get(pk=user.pk)
    for entry in kept.answers:
        task = entry["task"]
        same = {name: task[name] for name in ("kind", "kind_version", "seed")}
        if not Assignment.objects.filter(user=user, **same).exists():
            assignment = Assignment.objects.create(user=user, is_open=False, **task)
            handing.hand_in(assignment, entry["answer"])
    if kept.net:
        entering.save_kept(user, kept.net)


@arriving.stop
def offer(request):
    """Lead who signs in where they are asked whether what was tried here is theirs."""
    return reverse("trying:kept") if Kept(request.session) else ""
