"""Pairs of tows in the database: kept once, changed, put aside and put back by their owner."""

from django.db import transaction
from django.utils import timezone

from training.people import sight

from .forms import PairForm, field_name
from .models import PairedCatch, PairedTows
from .species import WITH, WITHOUT


def pairs_of(owner):
    """Return the pairs of ``owner`` that are not put aside, with vessels and catches."""
    mine = sight.own(PairedTows.objects.filter(deleted=None), owner)
    return mine.select_related("vessel").prefetch_related("catches")


def put_aside_of(owner, most=10):
    """Return the pairs of ``owner`` put aside last, at most so many."""
    mine = sight.own(PairedTows.objects.exclude(deleted=None), owner)
    return mine.select_related("vessel").order_by("-deleted")[:most]


def _catches(pair, form):
    return [
        PairedCatch(pair=pair, group=key, without_sweep=without, with_sweep=with_sweep, typed=typed)
        for key, (without, with_sweep, typed) in form.catches.items()
    ]


@transaction.atomic
def keep_once(form):
    """Return the pair that a valid new ``form`` tells of, and whether it was made just now."""
    told = form.cleaned_data
    pair, is_new = PairedTows.objects.get_or_create(
        key=told["key"],
        owner=form.owner,
        defaults={name: told[name] for name in ("vessel", "day", "note")},
    )
    if is_new:
        PairedCatch.objects.bulk_create(_catches(pair, form))
    return pair, is_new


def keep(form):
    """Return the pair that a valid new ``form`` tells of; sent twice it makes one pair."""
    return keep_once(form)[0]


@transaction.atomic
def change(form):
    """Make ``form.pair`` what the valid ``form`` says."""
    pair = form.pair
    for name in ("vessel", "day", "note"):
        setattr(pair, name, form.cleaned_data[name])
    pair.save(update_fields=["vessel", "day", "note", "changed"])
    pair.catches.all().delete()
    PairedCatch.objects.bulk_create(_catches(pair, form))


def initial(pair):
    """Return what a form that changes ``pair`` starts with: all as it was typed."""
    told = {"key": pair.key, "vessel": pair.vessel_id, "day": pair.day, "note": pair.note}
    for catch in pair.catches.all():
        for tow in (WITH, WITHOUT):
            told[field_name(catch.group, tow)] = catch.typed.get(tow, "")
    return told


def as_now(pair):
    """Return the PairForm that shows ``pair`` as it is."""
    return PairForm(owner=pair.owner, pair=pair, initial=initial(pair))


def put_aside(pair):
    """Take ``pair`` out of everything, in such a way that it can be put back."""
    if pair.deleted is None:
        pair.deleted = timezone.now()
        pair.save(update_fields=["deleted", "changed"])


def put_back(pair):
    """Undo putting aside."""
    pair.deleted = None
    pair.save(update_fields=["deleted", "changed"])
