"""The tag that draws: a scene of the rule module's drawings, as SVG with a caption."""

import random
from datetime import date, timedelta

from django.template.loader import render_to_string
from django.utils.safestring import mark_safe
from django.utils.translation import gettext as _

from rigs.drawing import svg
from rigs.drawing.area import area_view
from rigs.drawing.dropper import close_up
from rigs.drawing.legs import legs_view
from rigs.drawing.plan import plan_view
from rigs.drawing.side import side_view
from rigs.make import faults
from rigs.rules import openings
from rigs.rules.judge import judge
from rigs.words.gear import Dropper
from rigs.words.positions import PositionError, parse_position

from ..errors import TagError
from . import examples
from .grammar import block

_VIEWS = {}


def _view(word):
    def decorator(function):
        _VIEWS[word] = function
        return function

    return decorator


@block("figure")
def figure(page, view, *, caption, **sizes):
    """A drawing; ``view`` says which, the rest are its sizes."""
    if view not in _VIEWS:
        raise TagError(
            _("no drawing “{view}”: use one of {sorted}").format(
                view=view, sorted=", ".join(sorted(_VIEWS))
            )
        )
    try:
        scene = _VIEWS[view](page, **sizes)
    except TypeError as error:
        raise TagError(
            _("the sizes do not fit the drawing “{view}”: {error}").format(view=view, error=error)
        ) from error
    drawn = svg.render(scene, page.next_id("figure"))
    return render_to_string(
        "lessons/blocks/figure.html",
        {"svg": mark_safe(drawn), "caption": caption},  # the renderer escapes its words
    ).strip()


def _rig(page, rules, bosom, headrope, **wings):
    rope = examples.footrope(page, bosom, **wings)
    return examples.rig(
        page.rulebook(rules), rope, None if headrope is None else page.length(headrope)
    )


@_view("plan")
def _plan(page, bosom, headrope=None, rules=None, spoiled=None, **wings):
    """
    The mouth of the net from above, laid flat.

    With ``spoiled``, the key of a requirement, that one is broken and marked.
    """
    rig = _rig(page, rules, bosom, headrope, **wings)
    if spoiled is None:
        return plan_view(rig)
    book = page.rulebook(rules)
    if spoiled not in faults.spoilable(book):
        raise TagError(_("a rig cannot be spoiled in “{spoiled}”").format(spoiled=spoiled))
    # Seeded, so that the figure is the same each time it is drawn.
    rig = faults.spoil(rig, spoiled, faults.Draw(random.Random(spoiled), book))
    return plan_view(rig, judge(rig, book))


@_view("side")
def _side(page, bosom, headrope=None, rules=None, **wings):
    """The net from the side under tow, with what goes over the footrope and what under."""
    return side_view(_rig(page, rules, bosom, headrope, **wings))


@_view("legs")
def _legs(page, rules=None):
    """Ground cables and legs on both sides, every size at its limit."""
    return legs_view(_rig(page, rules, bosom="20 ft", headrope=None, wing="20 ft"))


@_view("dropper")
def _dropper(page, size="dropper_stock", length="dropper_length", shine=None, count="1"):
    """One dropper close up, with its shine if one is given."""
    if count not in ("1", "2"):
        raise TagError(_("a dropper is one chain or two"))
    dropper = Dropper(0.0, page.length(length), page.length(size), int(count))
    try:
        return close_up(dropper, None if shine is None else page.length(shine))
    except ValueError as error:
        raise TagError(str(error)) from error


def _day(text, season):
    """Return the date in a leap year that ``text`` names: ``11-25``, or by ``season``."""
    first = season.begins_after(date(1999, 12, 31))
    last = season.ends_after(first)
    named = {"first": first, "last": last, "after": last + timedelta(days=1)}
    try:
        return named.get(text) or date.fromisoformat(f"2000-{text}")
    except ValueError as error:
        raise TagError(
            _("“{text}” is no day like 11-25, first, last or after").format(text=text)
        ) from error


@_view("area")
def _area(page, rules=None, day="first", position=None, closures=None):
    """
    A fishery's waters on a sea chart, with the closures that the rule set ``closures`` names.

    ``day`` is a day of the year, or the ``first`` or the ``last`` on which the first area
    named is open, or the one ``after`` that.
    """
    (area, *__) = page.requirement("area", rules).limit
    (season, *__) = page.requirement("season", rules).limit
    try:
        place = None if position is None else parse_position(position)
    except PositionError as error:
        raise TagError(str(error)) from error
    on = _day(day, area.season or season)
    closed = ()
    if closures is not None:
        requirement = page.requirement("closures", closures)
        closed = tuple(
            openings.Closure(each, requirement.clause, None) for each in requirement.limit
        )
    return area_view(openings.parts(page.rulebook(rules), on, place), place, closed)
