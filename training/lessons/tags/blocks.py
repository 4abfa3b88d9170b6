"""Tags that stand alone and give a table or a worked example, computed as it is asked for."""

from dataclasses import replace

from django.template.loader import render_to_string
from django.utils.safestring import mark_safe
from django.utils.translation import gettext as _

from rigs.physics import chain, tow
from rigs.requirements import layout
from rigs.rules.judge import judge
from rigs.tuning.flights import pictured
from rigs.words.gear import SIDES
from rigs.words.places import off_center
from rigs.words.say import gettext_lazy
from rigs.words.units import fathoms, feet_inches, inches, pounds

from .. import heights, in_flight, live, standing
from ..errors import TagError
from . import examples
from .grammar import block
from .page import unbroken

_WORKED = {}


def _worked(word):
    def decorator(function):
        _WORKED[word] = function
        return function

    return decorator


_BASES = {
    chain.LINK_GEOMETRY: gettext_lazy("link shape"),
    chain.NOMINAL_AREA: gettext_lazy("the size it is sold under"),
    chain.RULE_OF_THUMB: gettext_lazy("rule of thumb, with no written source"),
}


def _render(name, **context):
    return render_to_string(f"lessons/blocks/{name}.html", context).strip()


@block("limits")
def limits(page, *keys, rules=None, caption):
    """A table of limits, each in deck and metric units with its clause or ``by custom``."""
    if not keys:
        raise TagError(_("say which limits the table is to show"))
    rows = [page.row(page.requirement(key, rules)) for key in keys]
    return _render("limits", rows=rows, caption=caption)


@block("compare")
def compare(page, *choices, length, caption):
    """A table of the weights of one dropper's length of each choice of chain."""
    if not choices:
        raise TagError(_("say which chains to compare"))
    metres = page.length(length)
    rows = []
    for text in choices:
        choice = page.choice(text)
        rows.append(
            {
                "choice": str(choice),
                "air": unbroken(pounds(chain.mass(choice.stock, metres, choice.count))),
                "sea": unbroken(
                    pounds(chain.mass_in_sea_water(choice.stock, metres, choice.count))
                ),
                "ratios": [
                    (f"{ratio.value:.2f}", _BASES[ratio.basis])
                    for ratio in chain.compare(choice, page.choice(choices[0]))
                ],
            }
        )
    return _render(
        "compare",
        rows=rows,
        length=inches(metres),
        against=rows[0]["choice"],
        sources=sorted({page.choice(text).stock.source for text in choices}),
        caption=caption,
    )


_LIVE = ("dropper", "flight")


@block("live")
def live_figure(page, what, *only, caption, rules=None):
    """
    A figure that the reader sets.

    ``dropper`` is one dropper under tow and its height; ``flight`` is an invented net in flight
    and what changes do to it, ``only`` of some sorts if any are named.
    """
    if what not in _LIVE:
        raise TagError(
            _("no live figure of “{what}”: use one of {known}").format(
                what=what, known=", ".join(_LIVE)
            )
        )
    book = page.rulebook(rules)
    if what == "flight":
        form = live.FlightForm(book, only=_sorts(only))
    elif only:
        raise TagError(_("the live figure of a dropper offers all it has"))
    else:
        form = live.LiveForm(book)
    context = live.shown(form, page.next_id(what))
    page.live.append(context["table_url"])
    return _render("live", caption=caption, **context)


def _sorts(only):
    known = {each.sort for each in pictured.tried()}
    for sort in only:
        if sort not in known:
            raise TagError(
                _("no change “{sort}”: use some of {known}").format(
                    sort=sort, known=", ".join(sorted(known))
                )
            )
    return only


@block("flight")
def flight_figure(page, view, *, caption):
    """An invented net in flight, seen from the ``side`` or from ``ahead``, and how sure that is."""
    if view not in in_flight.VIEWS:
        raise TagError(
            _("no view “{view}” of a net in flight: use one of {known}").format(
                view=view, known=", ".join(in_flight.VIEWS)
            )
        )
    return _render("flight", caption=caption, **in_flight.as_it_is(view, page.next_id("flight")))


@block("standing")
def standing_figure(page, what, *, caption):
    """What holds at the moment the lesson is shown: ``fleet-catches``, the fleet's paired tows."""
    if what not in standing.PLACES:
        known = ", ".join(sorted(standing.PLACES))
        raise TagError(
            _("there is nothing under “{what}”: use one of {known}").format(what=what, known=known)
        )
    return _render("standing", mark=mark_safe(standing.mark(what)), caption=caption)


@block("worked")
def worked(page, what, *, caption, **sizes):
    """A worked example; ``what`` says of what, the rest are its sizes."""
    return _example(page, what, caption, sizes, half=False)


@block("half")
def half(page, what, *, caption, **sizes):
    """The same with its last step folded away, for the reader to take first."""
    return _example(page, what, caption, sizes, half=True)


def _example(page, what, caption, sizes, half):
    if what not in _WORKED:
        raise TagError(
            _("no worked example of “{what}”: use one of {sorted}").format(
                what=what, sorted=", ".join(sorted(_WORKED))
            )
        )
    try:
        context = _WORKED[what](page, **sizes)
    except TypeError as error:
        raise TagError(
            _("the sizes do not fit “{what}”: {error}").format(what=what, error=error)
        ) from error
    name = context.pop("template", what)
    return _render(name, caption=caption, half=half, **context)


@_worked("layout")
def _layout(page, bosom, rules=None, **wings):
    """Where droppers go on one footrope, and what is left at each wing end."""
    rope = examples.footrope(page, bosom, **wings)
    book = page.rulebook(rules)
    spacing = book.requirement("dropper_spacing")
    sides = []
    for side in SIDES:
        wing = rope.wing(side)
        rest = layout.remainder(wing, spacing.limit)
        sides.append(
            {
                "side": side,
                "wing": feet_inches(wing),
                "steps": len(layout.wing_positions(wing, spacing.limit)),
                "rest": feet_inches(rest) if rest > 1e-9 else "",
            }
        )
    places = [
        {"name": place.name, "where": off_center(place.position)}
        if place.position
        else {"name": "center"}
        for place in layout.dropper_places(rope, book)
    ]
    return {
        "bosom": feet_inches(rope.bosom),
        "corner": feet_inches(rope.bosom / 2),
        "step": spacing.limit_text + page.mark(spacing),
        "sides": sides,
        "places": places,
    }


@_worked("floats")
def _floats(page, headrope, rules=None):
    """How many floats one headrope needs, and how far apart."""
    length = page.length(headrope)
    book = page.rulebook(rules)
    places = layout.float_positions(length, book)
    spacing = book.requirement("float_spacing")
    return {
        "headrope": feet_inches(length),
        "most": spacing.limit_text + page.mark(spacing),
        "gaps": len(places) - 1,
        "floats": len(places),
        "gap": feet_inches(places[1] - places[0], 4),
    }


_STYLES = ("deck", "sheet")


def _judged(page, rig, keys, rules, style):
    """
    Return what the block of findings needs: those on ``rig`` for ``keys``.

    ``style`` is ``deck``, as for trainees, or ``sheet``, as an officer's sheet has them.
    """
    if style not in _STYLES:
        raise TagError(
            _("“{style}” is no way to say a finding: use one of {STYLES}").format(
                style=style, STYLES=", ".join(_STYLES)
            )
        )
    verdict = judge(rig, page.rulebook(rules))
    findings = [verdict.finding(key) for key in keys]
    for finding in findings:
        page.mark(finding.requirement)  # a finding shows it with its source
    return {"findings": findings, "as_on_a_sheet": style == "sheet"}


@_worked("ropes")
def _ropes(page, headrope, rules=None, style="deck", **parts):
    """One footrope checked against one headrope."""
    rope = examples.footrope(page, **parts)
    rig = examples.rig(page.rulebook(rules), rope, page.length(headrope))
    return dict(
        template="findings",
        sizes=[
            (_("Headrope"), feet_inches(rig.headrope.length)),
            (_("Bosom"), feet_inches(rope.bosom)),
            (_("Port wing"), feet_inches(rope.port_wing)),
            (_("Starboard wing"), feet_inches(rope.starboard_wing)),
            (_("Footrope in all"), feet_inches(rope.length)),
        ],
        **_judged(page, rig, ("footrope_longer", "footrope_excess"), rules, style),
    )


@_worked("chain")
def _chain(page, size, rules=None, style="deck"):
    """The chain of droppers checked against its limit."""
    rig = examples.rig(page.rulebook(rules), examples.footrope(page, "20 ft", wing="20 ft"))
    thick = page.length(size)
    rig = rig.with_(droppers=tuple(replace(each, diameter=thick) for each in rig.droppers))
    return dict(
        template="findings",
        sizes=[(_("Dropper chain, as sold"), inches(thick))],
        **_judged(page, rig, ("dropper_stock",), rules, style),
    )


@_worked("wire")
def _wire(page, cable, top, bottom, rules=None, style="deck"):
    """One ground cable and its legs checked against the limits."""
    rig = examples.rig(page.rulebook(rules), examples.footrope(page, "20 ft", wing="20 ft"))
    lengths = [page.length(text) for text in (cable, top, bottom)]
    rig = rig.with_(
        ground_cables=tuple(replace(each, length=lengths[0]) for each in rig.ground_cables),
        legs=tuple(
            replace(each, top_length=lengths[1], bottom_length=lengths[2]) for each in rig.legs
        ),
    )
    names = (_("Ground cable"), _("Top leg"), _("Bottom leg"))
    return dict(
        template="findings",
        sizes=[(name, fathoms(length)) for name, length in zip(names, lengths, strict=True)],
        **_judged(page, rig, ("door_to_wing_end", "legs_equal"), rules, style),
    )


@_worked("height")
def _height(page, chain_size, shine, speed, rules=None):
    """
    The footrope's height from one dropper's shine, by rule of thumb and worked out.

    The dropper is as long as the rule set asks.
    """
    length = page.requirement("dropper_length", rules).limit
    stock = page.stock(chain_size)
    try:
        report = tow.height_report(
            chain.Choice(stock), length, page.speed(speed), page.length(shine)
        )
    except ValueError as error:
        raise TagError(str(error)) from error
    return {
        "rows": heights.rows(report),
        "length": inches(length),
        "shine": inches(page.length(shine)),
        "stock": stock.name,
        "speed": speed,
    }


@_worked("sweep")
def _sweep(page, rules, bosom, **wings):
    """How long a sweep must be under one footrope."""
    rope = examples.footrope(page, bosom, **wings)
    rig = examples.rig(page.rulebook(rules), rope)
    extra, each = (
        page.requirement(key, rules) for key in ("sweep_excess", "sweep_excess_each_side")
    )
    return {
        "footrope": feet_inches(rope.length),
        "extra": extra.limit_text + page.mark(extra),
        "each": feet_inches(each.limit) + page.mark(each),
        "halves": [(side, feet_inches(rig.sweep.half(side))) for side in SIDES],
        "whole": feet_inches(rig.sweep.port + rig.sweep.starboard),
    }
