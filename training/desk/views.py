"""What staff see of those who train; each of them what lies in his harbors."""

from django.core.paginator import Paginator
from django.shortcuts import get_object_or_404, render
from django.urls import reverse
from django.utils.translation import gettext as _
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_safe

from rigs.words.say import gettext_lazy
from training.certification.holders import certificate_states
from training.course.progress import progress_for
from training.deck import story
from training.deck.downloads import table
from training.deck.story_page import story_page
from training.people import sight
from training.people.models import Group, with_groups
from training.people.phones import to_ring
from training.recall import showing
from training.register import pointing
from training.register.models import Vessel
from training.work import aside

from . import tables
from .missed import missed_rules, rule_title
from .narrowing import PeopleForm
from .records import ATTEMPTS_AT_ONCE, attempts_of, entry, lessons_of, that_put
from .trainees import groups_of, people, rows, tally_of
from .way import course_of

PEOPLE_A_PAGE = 50
ATTEMPTS_A_PAGE = 20
MOST_MISSED = 5


def _filter(request):
    return PeopleForm(request.GET, sight.rows(Group.objects.all(), request.user))


@never_cache
@sight.staff
@require_safe
def trainees(request):
    """List those who train, with how far they have come."""
    form = _filter(request)
    found = form.found(request.user)
    chosen, text = form.chosen()
    page = Paginator(found, PEOPLE_A_PAGE).get_page(request.GET.get("page"))
    shown = list(rows(page.object_list))
    context = {
        "form": form,
        "chosen": chosen,
        "only": (only := form.words()),
        "narrowed": chosen is not None or bool(text or only),
        "page": page,
        "rows": shown,
        "any_demo": any(row.is_demo for row in shown),
    }
    return render(request, "desk/trainees.html", context)


@never_cache
@sight.staff
@require_safe
@aside.if_long(
    gettext_lazy("Table of the people who train"),
    lambda request, ending: aside.few(_filter(request).found(request.user)),
)
def trainees_table(request, ending):
    """Download the list, narrowed down as the page is, but all of it."""
    found = _filter(request).found(request.user)
    return table(ending, "trainees", tables.TRAINEES, tables.trainees(rows(found)))


def _attempts(request, person):
    """Return (attempts of ``person``, words): all, or those on the rule that the address names."""
    found = attempts_of(person)
    for asked, words in (
        ("missed", _("that missed “{rule}”")),
        ("asked", _("that asked about “{rule}”")),
    ):
        if rule := request.GET.get(asked):
            words = words.format(rule=rule_title(rule))
            return that_put(found, rule, missed=asked == "missed"), words
    return found, ""


@never_cache
@sight.staff
@require_safe
def trainee(request, pk):
    """Show one person: how to reach them, how far they have come, and what happened."""
    person = _person(request, pk)
    groups = groups_of(person)
    crew = list(person.berths.filter(until=None).select_related("vessel"))
    seen = set(sight.rows(Vessel.objects.filter(crew__in=crew), request.user).values_list("pk"))
    for berth in crew:
        if (berth.vessel_id,) in seen:
            berth.link = reverse("register:vessel", args=[berth.vessel_id])
    context = {
        "person": person,
        "ring": to_ring(person.phone),
        "groups": groups,
        "is_demo": any(each.is_demo for each in groups),
        "certificate": certificate_states([person.pk])[person.pk],
        "points": pointing.of_person(person, crew, request.user),
        "crew": crew,
        "tally": tally_of(person),
        "lessons": len(course_of(person.role)),
        "story": story_page(story.PERSON.told(person, request.user), request.GET),
    }
    return render(request, "desk/trainee.html", context)


def _person(request, pk):
    found = sight.rows(people(), request.user).select_related("tally")
    return get_object_or_404(found.prefetch_related(with_groups()), pk=pk)


@never_cache
@sight.staff
@require_safe
def trainee_record(request, pk):
    """Show which lessons one person finished and all that was turned in."""
    person = _person(request, pk)
    progress = progress_for(person)
    handed_in, only = _attempts(request, person)
    page = Paginator(handed_in, ATTEMPTS_A_PAGE).get_page(request.GET.get("page"))
    context = {
        "person": person,
        "is_demo": any(each.is_demo for each in groups_of(person)),
        "progress": progress,
        "lessons": lessons_of(person, progress),
        "missed": missed_rules(person.rule_tallies.all(), MOST_MISSED),
        "only": only,
        "page": page,
        "entries": [entry(attempt) for attempt in page.object_list],
    }
    return render(request, "desk/trainee_record.html", context)


@never_cache
@sight.staff
@require_safe
def trainee_rules(request, pk):
    """Show what one person knows by rule, and when each rule comes back."""
    person = get_object_or_404(sight.rows(people(), request.user), pk=pk)
    rules = showing.rule_groups(person)
    context = {
        "person": person,
        "rules": rules,
        "counts": showing.counts_of(row.state for group in rules for row in group.rows),
    }
    return render(request, "desk/trainee_rules.html", context)


@never_cache
@sight.staff
@require_safe
def attempts_table(request, pk, ending):
    """Download everything that one person has handed in."""
    person = get_object_or_404(sight.rows(people(), request.user), pk=pk)
    handed_in = _attempts(request, person)[0].iterator(chunk_size=ATTEMPTS_AT_ONCE)
    return table(ending, f"attempts-{person.pk}", tables.ATTEMPTS, tables.attempts(handed_in))
