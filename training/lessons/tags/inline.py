"""Tags that give words within a sentence."""

from django.utils.translation import gettext as _

from rigs.physics import balance, chain, practice
from rigs.words.say import gettext_lazy
from rigs.words.units import FOOT, INCH, feet_inches, metric, pounds, trimmed

from ..errors import TagError
from .grammar import inline


@inline("limit")
def limit(page, key, style="deck", *, rules=None):
    """
    A limit: ``8 ft``; with ``metric``, ``2.4 m``; with ``both``, ``8 ft (2.4 m)``.

    One that was written from memory is marked.
    """
    found = page.requirement(key, rules)
    styles = {
        "deck": found.limit_text,
        "metric": found.limit_metric_text,
        "both": f"{found.limit_text} ({found.limit_metric_text})",
    }
    if style not in styles:
        raise TagError(
            _("“{style}” is no way to say a limit: use one of {styles}").format(
                style=style, styles=", ".join(styles)
            )
        )
    return styles[style] + page.mark(found)


@inline("size")
def size(page, key, *, rules=None):
    """A limit's figure where it is no limit but the size of a thing, so that it has no mark."""
    return page.requirement(key, rules).limit_text


@inline("allowed")
def allowed(page, key, *, rules=None):
    """A limit with its sense: ``at most 3/8 in``, marked if it was written from memory."""
    found = page.requirement(key, rules)
    return found.allowed_text + page.mark(found)


@inline("clause")
def clause(page, key, *, rules=None):
    """Where the limit is written: ``50 CFR 648.80(a)(9)(ii)(D)``; a custom is in no clause."""
    found = page.requirement(key, rules)
    if found.by_custom:
        raise TagError(_("“{key}” has no clause: it is done by custom").format(key=key))
    return found.clause


@inline("vessel")
def vessel(page, key, *, rules=None):
    """The length of vessel at which the rule begins or ends to apply: ``60 ft``."""
    found = page.requirement(key, rules)
    bound = found.vessel_up_to if found.vessel_over is None else found.vessel_over
    if bound is None:
        raise TagError(_("“{key}” is for vessels of any length").format(key=key))
    return feet_inches(bound)


@inline("over")
def over(page, key, by, *, rules=None):
    """What would be measured ``by`` so much past the limit: ``8 ft 8 in``."""
    found = page.requirement(key, rules)
    return found.say(page.length(key if rules is None else f"{key}@{rules}") + page.length(by))


@inline("mark")
def mark(page, key, *, rules=None):
    """The mark of a rule whose limit is not printed beside it, nothing if it needs none."""
    return page.mark(page.requirement(key, rules))


@inline("title")
def title(page, key, *, rules=None):
    """What the rule is called."""
    return page.requirement(key, rules).title


@inline("caution")
def caution(page, key, *, rules=None):
    """What has to be said with the limit wherever it is shown, as sentences."""
    found = page.requirement(key, rules).caution
    if not found:
        raise TagError(_("“{key}” has nothing that is said with it").format(key=key))
    return found


@inline("reason")
def reason(page, key, *, rules=None):
    """What stands behind something that is no rule for a vessel, as a sentence."""
    found = page.requirement(key, rules)
    if found.binds:
        raise TagError(_("“{key}” is a rule: say why it matters on the net").format(key=key))
    return found.why


@inline("why")
def why(page, key, *, rules=None):
    """Why it matters, as a sentence that says so: the purpose of a law is not guessed."""
    return _("Why it matters on the net: {why}").format(why=page.requirement(key, rules).why)


@inline("remedy")
def remedy(page, key, *, rules=None):
    """How to fix a rig that breaks the rule, as a sentence."""
    found = page.requirement(key, rules)
    return found.remedy_text.format(allowed=found.limit_text)


@inline("reads")
def reads(page, key, *, rules=None):
    """What the site reads into a clause that does not spell it out, as a sentence that says so."""
    found = page.requirement(key, rules)
    if not found.reads_as:
        raise TagError(_("nothing is read into the clause of “{key}”").format(key=key))
    return _("This site reads it as: {reads_as}.").format(
        reads_as=found.reads_as.format(allowed=found.limit_text)
    )


_NO_SOURCE = gettext_lazy("comes from common practice; it has no written source.")
_KNOWN = {
    "read": gettext_lazy("This one was checked against an older copy of the regulation."),
    "memory": gettext_lazy("This one was written from memory: check it against the regulation."),
    "trade": gettext_lazy("This one {NO_SOURCE}").format(NO_SOURCE=_NO_SOURCE),
}


@inline("known")
def known(page, key, *, rules=None):
    """How well the limit is known, as a sentence."""
    return _KNOWN[page.requirement(key, rules).known]


_RULEBOOK_PARTS = ("title", "summary", "citation", "allowance_note", "effective_note", "follows")


@inline("rulebook")
def rulebook(page, part, *, rules=None):
    """Something about a whole rule set: its title, summary, citation or notes."""
    if part not in _RULEBOOK_PARTS:
        raise TagError(
            _("a rule set has no “{part}”: use one of {RULEBOOK_PARTS}").format(
                part=part, RULEBOOK_PARTS=", ".join(_RULEBOOK_PARTS)
            )
        )
    return getattr(page.rulebook(rules), part)


@inline("thumb")
def thumb(page, key, part="figure"):
    """A rule of thumb of the trade: its figure, or with ``basis`` a sentence on its source."""
    try:
        rule = practice.rule(key)
    except KeyError as error:
        known_rules = ", ".join(practice.RULES)
        raise TagError(
            _("no rule of thumb “{key}”: use one of {known_rules}").format(
                key=key, known_rules=known_rules
            )
        ) from error
    parts = {
        "figure": rule.text,
        "basis": _("That figure {NO_SOURCE}").format(NO_SOURCE=_NO_SOURCE),
    }
    if part not in parts:
        raise TagError(
            _("a rule of thumb has no “{part}”: use one of {parts}").format(
                part=part, parts=", ".join(parts)
            )
        )
    return parts[part]


_MASSES = {"air": chain.mass, "sea": chain.mass_in_sea_water}


@inline("weight")
def weight(page, size, *, length=None, count="1", where="air"):
    """What chain weighs, a foot of it unless a length is given: ``1.4 lb``."""
    if where not in _MASSES:
        raise TagError(_("chain is weighed in air or sea, not “{where}”").format(where=where))
    if not count.isdecimal():
        raise TagError(_("“{count}” is no number of chains").format(count=count))
    metres = FOOT if length is None else page.length(length)
    return pounds(_MASSES[where](page.stock(size), metres, int(count)))


@inline("bar")
def bar(page, size):
    """How thick the bar of chain sold as ``size`` is made: ``8 mm (0.315 in)``."""
    wire = page.stock(size).wire
    return f"{metric(wire)} ({trimmed(wire / INCH, 3)} in)"


@inline("times")
def times(page, choice, against, basis=chain.LINK_GEOMETRY):
    """How many times as heavy one choice of chain is as another: ``1.21``."""
    ratios = chain.compare(page.choice(choice), page.choice(against))
    for ratio in ratios:
        if ratio.basis == basis:
            return f"{ratio.value:.2f}"
    raise TagError(_("there is no “{basis}” for this pair").format(basis=basis))


@inline("lift")
def lift(page, size="float_diameter"):
    """What one float lifts in sea water, least and most: ``6.4 to 6.8 lb``."""
    least, __, most = balance.float_lift(page.length(size))
    return f"{pounds(least).removesuffix(' lb')} to {pounds(most)}"


@inline("holds")
def holds(page, size, length, floats="float_diameter"):
    """How many droppers of ``size`` and ``length`` one float holds up, at the least."""
    dropper = chain.mass_in_sea_water(page.stock(size), page.length(length))
    return f"{balance.float_lift(page.length(floats)).least / dropper:.1f}"
