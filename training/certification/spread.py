"""
How the short readings of an exam are spread over the rules that it is about.

The plan is the same for every form of an exam: how often each rule is asked, at which
level and by which rule set. What differs from form to form is drawn in ``drawing``.
"""

from collections import Counter
from typing import NamedTuple

from django.utils.translation import gettext as _

from rigs.rules import rulebook
from training.exercises import kinds
from training.exercises.kinds.choose_one import ChooseOne
from training.exercises.kinds.one_reading import OneReading

READING = OneReading.slug
"""The kind of question that asks one rule by one reading off a rig."""
LAST = ChooseOne.slug
"""The kind that asks one measured rule by several sizes: fewer guess it right."""
ROUNDS_BEFORE_PLAIN = 2
"""How often each measured rule is asked before any that its name gives away."""


class RequirementsError(ValueError):
    """Requirements of which no fair exam can be made; the message says why in plain words."""


class Slot(NamedTuple):
    """
    The place of one question in every form of an exam.

    ``kind`` is the kind's slug, ``rulebook`` the name of a rule set, ``focus`` the key of
    the requirement that a READING or a LAST asks, none for other kinds.
    """

    kind: str
    difficulty: int
    rulebook: str
    focus: tuple[str, ...] = ()


class AskedRule(NamedTuple):
    """
    A requirement with one limit, and where a reading can ask it: (level, rule set) pairs.

    A requirement that two rule sets set two limits to is two AskedRules. ``plain`` says that
    whoever knows which way the rule points needs no figure: yes or no, none, or the same.
    """

    key: str
    plain: bool
    places: tuple[tuple[int, str], ...]

    @property
    def levels(self):
        """The levels at which it can be asked."""
        return {level for level, __ in self.places}


def rules(rulebooks, levels, on, slug=READING):
    """
    Return the AskedRules of the rule sets called ``rulebooks`` that the kind can ask on ``on``.

    At one of ``levels`` at least; in the order of the rule sets. The kind is called ``slug``.
    """
    kind = kinds.get(slug)
    found = {}
    for name in rulebooks:
        book = rulebook.find_in_force(name, on)
        open_at = [level for level in levels if book and name in kind.rulebooks[level]]
        covered = {level: set(kind.covers(book, level)) for level in open_at}
        for each in book.requirements if book else ():
            places = [(level, name) for level in open_at if each.key in covered[level]]
            if places:
                of_rule = found.setdefault((each.key, str(each.limit)), (each.is_plain, []))
                of_rule[1].extend(places)
    return [AskedRule(key, plain, tuple(places)) for (key, __), (plain, places) in found.items()]


def spread(levels, rulebooks, must_pass, must_asked, on):
    """
    Return the Slots of the readings of every form, rule by rule.

    ``levels`` maps a level to how many readings there are at it. Each requirement of
    ``must_pass`` is asked ``must_asked`` times; of the rest each measured rule at least
    once, and one that its name gives away at most once.

    Raises RequirementsError if there are too few readings for that, or if none can ask a rule
    of ``must_pass``.
    """
    total = sum(levels.values())
    found = rules(rulebooks, levels, on)
    must = {key: [rule for rule in found if rule.key == key] for key in must_pass}
    for key, of_key in must.items():
        if not of_key:
            raise RequirementsError(_unasked_text(key))
    measured = [rule for rule in found if rule.key not in must and not rule.plain]
    plain = [rule for rule in found if rule.key not in must and rule.plain]
    needed = len(must) * must_asked + len(measured)
    if total < needed:
        raise RequirementsError(_too_few_text(total, needed, len(must), must_asked, len(measured)))
    asked = Counter()
    for of_key in must.values():
        for number in range(must_asked):
            asked[of_key[number % len(of_key)]] += 1
    for rule in _turns(measured, plain, total - len(must) * must_asked):
        asked[rule] += 1
    return _placed([rule for rule in found for __ in range(asked[rule])], levels)


def spread_last(level, count, rulebooks, on):
    """
    Return the Slots of ``count`` questions of the kind LAST at ``level``, rule by rule.

    Each rule is asked as often as the others, or once more; which ones are asked once more
    is the same for every form.
    """
    found, drawn = rules(rulebooks, [level], on, LAST), Counter()
    if not found:
        raise RequirementsError(
            _("“{title}” at level {level} can ask no rule of these rule sets.").format(
                title=kinds.get(LAST).title, level=level
            )
        )
    slots = []
    for number in range(count):
        # Of fewer questions than rules every so manieth rule has one.
        rule = found[(number * max(1, len(found) // count)) % len(found)]
        name = min((name for __, name in rule.places), key=lambda each: drawn[each])
        drawn[name] += 1
        slots.append(Slot(LAST, level, name, (rule.key,)))
    return slots


def _turns(measured, plain, count):
    """Return whose turn it is, ``count`` times: the measured over and over, the plain once."""
    if not measured:
        if count > len(plain):
            raise RequirementsError(
                _(
                    "There are {value} readings too many: these rule sets have no measured rule "
                    "left to ask."
                ).format(value=count - len(plain))
            )
        return plain[:count]
    turns = measured * ROUNDS_BEFORE_PLAIN + plain
    while len(turns) < count:
        turns += measured
    return turns[:count]


def _placed(readings, levels):
    """Give each of ``readings``, AskedRules, a level and a rule set, as evenly as can be."""
    left, drawn = dict(levels), Counter()
    # Those that not every level has go first, or theirs would be taken by then.
    tied = sorted(
        (each for each in readings if len(each.levels) < len(levels)),
        key=lambda each: len(each.levels),
    )
    pairs = []
    for rule in tied:
        level = max(rule.levels, key=lambda each: (left[each], -each))
        if not left[level]:
            raise RequirementsError(
                _(
                    "There are not enough questions at level {level} of “{title}”: some of these "
                    "rules come up at no other level. Move questions to that level."
                ).format(level=level, title=kinds.get(READING).title)
            )
        left[level] -= 1
        pairs.append((rule, level))
    free = [each for each in readings if len(each.levels) == len(levels)]
    used = Counter()
    for number, rule in enumerate(free, 1):
        level = max(left, key=lambda each: (left[each] * number / len(free) - used[each], -each))
        used[level] += 1
        pairs.append((rule, level))
    slots = []
    for rule, level in pairs:
        name = min((name for at, name in rule.places if at == level), key=lambda each: drawn[each])
        drawn[name] += 1
        slots.append(Slot(READING, level, name, (rule.key,)))
    return slots


def _too_few_text(total, needed, must, must_asked, measured):
    parts = []
    if must:
        parts.append(
            _("{must_asked} for each of {must} rules that must be right").format(
                must_asked=must_asked, must=must
            )
        )
    if measured:
        parts.append(
            _("1 for each of {measured} other rules that are measured").format(measured=measured)
        )
    title = kinds.get(READING).title
    return _(
        "{total} questions of “{title}” are too few. These requirements need at least "
        "{needed}: {parts}."
    ).format(total=total, title=title, needed=needed, parts=" and ".join(parts))


def _unasked_text(key):
    return _("With these rule sets no reading can ask “{title}”, which must be right.").format(
        title=last_title(key, rulebook.gear_names())
    )


def last_title(key, names):
    """Return what the requirement ``key`` is called in the latest version that has it."""
    books = [book for name in names for book in reversed(rulebook.versions(name))]
    titles = (book.requirement(key).title for book in books if book.has(key))
    return next(titles, _("a rule that is no longer here"))
