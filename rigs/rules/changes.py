"""What differs between two versions of a rule set, in words."""

from collections.abc import Callable, Iterator
from datetime import date
from typing import NamedTuple

from rigs.requirements import by_mesh
from rigs.words import units
from rigs.words.days import long_day
from rigs.words.say import gettext as _
from rigs.words.say import gettext_lazy
from rigs.words.units import ROUNDING

from .rulebook import Requirement, Rulebook
from .text import corner_entry, limit_entry

Lines = tuple[str, ...]

NO_RULE = gettext_lazy("no such rule")

ADDED = "added"
REMOVED = "removed"
CHANGED = "changed"
REWORDED = "reworded"


class RuleChange(NamedTuple):
    """One rule: ``old`` is None where it is new, ``new`` where it no longer holds."""

    key: str
    old: Requirement | None
    new: Requirement | None

    @property
    def title(self) -> str:
        """What the rule is about."""
        rule = self.new or self.old
        return rule.title if rule else ""

    @property
    def before(self) -> str:
        """What was allowed, in the words of the deck."""
        return self.old.allowed_text if self.old else NO_RULE

    @property
    def now(self) -> str:
        """What is allowed now, in the words of the deck."""
        return self.new.allowed_text if self.new else NO_RULE


class Difference(NamedTuple):
    """One part that differs: ``what`` it is, and its lines before and after; none if empty."""

    what: str
    before: Lines
    after: Lines


class RuleDifferences(NamedTuple):
    """All that differs about one rule; ``sort`` is ADDED, REMOVED, CHANGED or REWORDED."""

    change: RuleChange
    sort: str
    rows: tuple[Difference, ...]


def _asks(requirement: Requirement) -> tuple[object, ...]:
    """Return what ``requirement`` asks of a rig; its explanations are left out."""
    return (
        requirement.test,
        requirement.limit,
        requirement.edge,
        requirement.basis,
        requirement.vessel_over,
        requirement.vessel_up_to,
        requirement.vessel_edge,
        requirement.effective_from,
        requirement.effective_to,
    )


def _pairs(old: Rulebook, new: Rulebook) -> list[RuleChange]:
    keys = dict.fromkeys(rule.key for book in (new, old) for rule in book.requirements)
    return [
        RuleChange(
            key,
            old.requirement(key) if old.has(key) else None,
            new.requirement(key) if new.has(key) else None,
        )
        for key in keys
    ]


def changed_rules(old: Rulebook, new: Rulebook) -> tuple[RuleChange, ...]:
    """
    Return the RuleChanges from the Rulebook ``old`` to ``new``, in the order of ``new``.

    A rule whose clause or explanation alone was reworded has not changed.
    """
    return tuple(
        pair
        for pair in _pairs(old, new)
        if pair.old is None or pair.new is None or _asks(pair.old) != _asks(pair.new)
    )


# In words ------------------------------------------------------------------


def _allowed(requirement: Requirement) -> Lines:
    """Return what is allowed, as lines: one an area or corner, one a name, else one in all."""
    dimension = requirement.measure.dimension
    if dimension == "names":
        return tuple(requirement.limit)
    if dimension == "mass by mesh":
        return tuple(by_mesh.row_text(requirement.limit, row) for row in requirement.limit)
    if dimension == "days":
        return tuple(str(season) for season in requirement.limit)
    if dimension != "area":
        return (requirement.allowed_text,)
    lines = []
    for area in requirement.limit:
        when = f", {area.season}" if area.season else ""
        closed = (
            _(", closed by {closed_by}").format(closed_by=area.closed_by) if area.closed_by else ""
        )
        lines.append(
            _("{title}{when}{closed}: {corners} corners").format(
                title=area.title, when=when, closed=closed, corners=len(area.corners)
            )
        )
        lines += [f"{area.title}: {corner_entry(corner)}" for corner in area.corners]
    return tuple(lines)


def _exact(requirement: Requirement) -> Lines:
    """Return what is allowed with the limit as it is entered, to the last decimal."""
    return (f"{requirement.test} {limit_entry(requirement)}",)


def _vessel(requirement: Requirement) -> str:
    if not requirement.by_vessel:
        return ""
    over = requirement.vessel_over
    length = units.feet_inches((requirement.vessel_up_to or 0.0) if over is None else over)
    if requirement.vessel_metric:
        length += f" ({requirement.vessel_metric.text})"
    return f"{'up to' if over is None else 'over'} {length}"


def _day(day: date | None) -> str:
    return long_day(day) if day else ""


# What is told of a rule besides what it allows, each as text.
_TOLD: tuple[tuple[str, Callable[[Requirement], str]], ...] = (
    (gettext_lazy("Metric figure"), lambda rule: rule.metric.text if rule.metric else ""),
    (gettext_lazy("Holds for vessels"), _vessel),
    (gettext_lazy("From"), lambda rule: _day(rule.effective_from)),
    ("To", lambda rule: _day(rule.effective_to)),
    (gettext_lazy("Clause"), lambda rule: rule.clause or _("by custom: no clause asks it")),
    (gettext_lazy("How it is known"), lambda rule: rule.source),
    (gettext_lazy("Basis"), lambda rule: rule.basis),
    (gettext_lazy("Title"), lambda rule: rule.title),
    (gettext_lazy("Said with it"), lambda rule: rule.caution),
    (gettext_lazy("Why it matters on the net"), lambda rule: rule.why),
    (gettext_lazy("How to fix it"), lambda rule: rule.remedy_text),
    (gettext_lazy("What the site reads into it"), lambda rule: rule.reads_as),
)


def _only_in(lines: Lines, others: Lines) -> Lines:
    return tuple(line for line in lines if line not in others)


def _allowed_rows(old: Requirement | None, new: Requirement | None) -> Iterator[Difference]:
    """Yield the Difference in what is allowed, if there is one; of lists only what differs."""
    if old is None or new is None:
        yield Difference(_("Allowed"), _allowed(old) if old else (), _allowed(new) if new else ())
        return
    if (old.test, old.limit) == (new.test, new.limit):
        return
    before, after = _allowed(old), _allowed(new)
    if before == after:
        before, after = _exact(old), _exact(new)
    yield Difference(_("Allowed"), _only_in(before, after), _only_in(after, before))


def _rows(old: Requirement | None, new: Requirement | None) -> Iterator[Difference]:
    yield from _allowed_rows(old, new)
    if old and new and old.slack != new.slack:
        slack = [units.inches(rule.slack - ROUNDING) for rule in (old, new)]
        yield Difference(_("Measuring allowance"), *((text,) for text in slack))
    for what, tell in _TOLD:
        before, after = (tell(rule) if rule else "" for rule in (old, new))
        if before != after:
            yield Difference(what, (before,) if before else (), (after,) if after else ())
    said, says = (_phrases(rule) if rule else () for rule in (old, new))
    if said != says:
        yield Difference(_("Words"), _only_in(said, says), _only_in(says, said))


def _phrases(rule: Requirement) -> Lines:
    return tuple(f"{name}: {text}" for name, text in rule.words)


def _sort(pair: RuleChange) -> str:
    if pair.old is None:
        return ADDED
    if pair.new is None:
        return REMOVED
    return CHANGED if _asks(pair.old) != _asks(pair.new) else REWORDED


def rule_differences(old: Rulebook, new: Rulebook) -> tuple[RuleDifferences, ...]:
    """
    Return the RuleDifferences from the Rulebook ``old`` to ``new``, in the order of ``new``.

    Every part of a rule counts, its wording too.
    """
    return tuple(
        RuleDifferences(pair, _sort(pair), tuple(_rows(pair.old, pair.new)))
        for pair in _pairs(old, new)
        if pair.old != pair.new
    )


def head_differences(old: Rulebook, new: Rulebook) -> tuple[Difference, ...]:
    """Return the Differences of what is told of the rule set as a whole, its dates included."""
    told: tuple[tuple[str, Callable[[Rulebook], str]], ...] = (
        (_("Version"), lambda book: book.version),
        (_("Takes effect"), lambda book: _day(book.effective_from)),
        (_("Last day"), lambda book: _day(book.effective_to)),
        (_("Title"), lambda book: book.title),
        (_("Summary"), lambda book: book.summary),
        (_("Citation"), lambda book: book.citation),
        (_("Note on the dates"), lambda book: book.effective_note),
        (_("Measuring allowance, length"), lambda book: _allowance(book, "length")),
        (_("Measuring allowance, diameter"), lambda book: _allowance(book, "diameter")),
        (_("Note on the allowance"), lambda book: book.allowance_note),
        (_("Gear it takes over"), lambda book: ", ".join(book.gear)),
        (_("Goes with a vessel on its letter by"), lambda book: book.follows),
        (_("Taught from level"), lambda book: str(book.taught.level) if book.taught else ""),
        (_("On the course of"), lambda book: ", ".join(book.taught.courses) if book.taught else ""),
        (_("Other levels"), _other_levels),
        (_("Follows a time without rules"), lambda book: "yes" if book.resumes else ""),
    )
    pairs = [(what, tell(old), tell(new)) for what, tell in told]
    return tuple(
        Difference(what, (before,) if before else (), (after,) if after else ())
        for what, before, after in pairs
        if before != after
    )


def _other_levels(book: Rulebook) -> str:
    exercises = book.taught.exercises if book.taught else ()
    return ", ".join(f"{slug} {level}" for slug, level in exercises)


def _allowance(book: Rulebook, sort: str) -> str:
    return units.inches(book.allowance[sort]) if sort in book.allowance else ""
