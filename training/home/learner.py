"""The first page of a trainee or an officer: one next step, and what is theirs below it."""

import uuid

from django.shortcuts import render

from training.course.progress import progress_for
from training.inbox.models import Arrival
from training.lessons import passages
from training.people import sight
from training.people.meetings.upcoming import next_sessions

from . import cards, steps


def page(request):
    """Return the response of the first page to a trainee or an officer."""
    user = request.user
    progress = progress_for(user)
    nets = cards.nets_of(user)
    found = [cards.net(nets), cards.log(user, nets), cards.certificate(user), cards.vessel(user)]
    found.append(cards.at_sea())
    if user.is_officer:
        found = [cards.sheets(user), cards.rounds(user), *found]
    begun = steps.exam_begun(user)
    context = {
        "progress": progress,
        "step": progress.next_step,
        "home_step": begun
        or (steps.after_lessons(user, bool(nets)) if progress.complete else None),
        "sessions": next_sessions(user),
        "arrived": sight.own(Arrival.objects.still_open(), user).count(),
        "missed": _missed(progress, user.role),
        "key": uuid.uuid4(),
        "cards": [each for each in found if each is not None],
    }
    return render(request, "home/learner.html", context)


def _missed(progress, role):
    """Return the rules missed the last time they were asked: how many, and those to name."""
    rules = dict.fromkeys(
        each.rule for state in progress.lessons for each in state.rules if each.missed
    )
    named = [
        {"rule": rule, "passage": passages.url_for(rule.key, role)}
        for rule in list(rules)[: cards.SHOWN]
    ]
    return {"count": len(rules), "named": named, "others": len(rules) - len(named)}
