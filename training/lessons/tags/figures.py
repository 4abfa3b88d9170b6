"""The tag that draws: a scene of the rule module's drawings, as SVG with a caption."""

import random

from django.template.loader import render_to_string
from django.utils.safestring import mark_safe

from rigs import faults
from rigs.drawing import svg
from rigs.drawing.dropper import close_up
from rigs.drawing.legs import legs_view
from rigs.drawing.plan import plan_view
from rigs.drawing.side import side_view
from rigs.gear import Dropper
from rigs.judge import judge

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
        raise TagError(f"no drawing “{view}”: use one of {', '.join(sorted(_VIEWS))}")
    try:
        scene = _VIEWS[view](page, **sizes)
    except TypeError as error:
        raise TagError(f"the sizes do not fit the drawing “{view}”: {error}") from error
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
        raise TagError(f"a rig cannot be spoiled in “{spoiled}”")
    # Seeded, so that the figure is the same each time it is drawn.
    rig = faults.spoil(rig, spoiled, random.Random(spoiled), book)
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
        raise TagError("a dropper is one chain or two")
    dropper = Dropper(0.0, page.length(length), page.length(size), int(count))
    try:
        return close_up(dropper, None if shine is None else page.length(shine))
    except ValueError as error:
        raise TagError(str(error)) from error
