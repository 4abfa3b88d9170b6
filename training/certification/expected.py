"""
What an exam can be expected to do before anybody has taken it, by modelled people.

Questions are made by the kinds themselves, as few of each sort as tell their shape; people
are those of ``exercises.hands``, drawn by the thousand. What is assumed of them is said
there, and has no source: a figure from here is no better than that. Shares are from 0 to 1.
"""

from collections import defaultdict
from functools import lru_cache
from random import Random
from typing import NamedTuple

import numpy as np
from django.utils.translation import gettext as _

from rigs.rules import rulebook
from training.deck.plain import percent_number
from training.exercises import hands, kinds
from training.exercises.hands import people
from training.exercises.hands.mind import GUESSED_WITHIN, SLIPS, identity
from training.exercises.kinds.judge_rig import JudgeRig
from training.exercises.kinds.one_reading import BROKEN, MET
from training.exercises.kinds.space_droppers import SpaceDroppers

from . import drawing
from .models import Requirements
from .spread import LAST, READING

PEOPLE = 4000
"""How many people of each sort take the exam: a share is then known to 0.016, 95 times in 100."""
READINGS, RIGS, TRIES, LASTS = 10, 60, 24, 60
"""How many of each are made: readings a side, whole rigs, other tasks, those of several sizes."""
LEANINGS = (BROKEN, MET, "")

BLIND, CRIB, SAME = "blind", "crib", "same"


class Aim(NamedTuple):
    """What a share ought to be ``at_least`` or else at most."""

    share: float
    at_least: bool = False

    def is_met(self, share):
        return share >= self.share if self.at_least else share <= self.share


AIMS = {
    Requirements.Track.FISHERMAN: {
        BLIND: Aim(0.01),
        CRIB: Aim(0.05),
        60: Aim(0.05),
        95: Aim(0.90, at_least=True),
        SAME: Aim(0.90, at_least=True),
    },
    Requirements.Track.OFFICER: {
        BLIND: Aim(0.01),
        CRIB: Aim(0.02),
        60: Aim(0.02),
        95: Aim(0.90, at_least=True),
        SAME: Aim(0.90, at_least=True),
    },
}
"""What an exam is meant to do, by the track it is for: decided by those who made the site."""


class Expected(NamedTuple):
    """
    What an exam is expected to do.

    ``passes`` is the share that passes by sort of person: BLIND, CRIB, or the percent of the
    rules known. The others are of the people of ``people.HONEST``: ``accurate`` the share
    whose verdict is right, that of who passes among those who know less than
    ``people.ENOUGH`` percent, that of who fails among the rest, and that of who gets the
    same verdict on two forms. ``missed`` are those of the aims that are not met.
    """

    passes: dict
    accurate: float
    false_pass: float
    false_fail: float
    same: float
    missed: frozenset

    @property
    def error(self):
        """How far off chance leaves a share at most, 95 times in 100."""
        return 1.96 * (0.25 / PEOPLE) ** 0.5


# What questions are like ------------------------------------------------------------------------


@lru_cache(maxsize=2048)
def _readings(name, version, level, key, side):
    """Return measured values in SI of readings of ``key`` on one side of its limit."""
    kind, book = kinds.get(READING), rulebook.load(name, version)
    tasks = [kind.generate(seed, book, level, (key, side)) for seed in range(READINGS)]
    return np.array([task.finding.measured for task in tasks], dtype=float)


@lru_cache(maxsize=64)
def _rigs(name, version, level):
    """
    Return whole rigs: identities of the rules, and by rig and rule what is broken and looks so.
    """
    kind, book = kinds.get(JudgeRig.slug), rulebook.load(name, version)
    blind, rng = people.blind(0), Random(0)
    bind = [each.key for each in book.requirements if each.binds and not each.of_trip]
    rules = {key: at for at, key in enumerate(bind)}
    broken = np.zeros((RIGS, len(rules)), dtype=bool)
    looks, asked = broken.copy(), broken.copy()
    for seed in range(RIGS):
        task = kind.generate(seed, book, level)
        for finding in task.verdict.regulation:
            at = rules[finding.key]
            asked[seed, at] = True
            broken[seed, at] = finding.failed
            if not finding.requirement.is_plain:
                looks[seed, at] = blind.part_breaks(task.rig, finding, level, rng)
    return [identity(book.requirement(key)) for key in rules], broken, looks, asked


@lru_cache(maxsize=256)
def _chances(slug, name, version, level):
    """Return how often a task of a kind is right for who knows all, and for the blind."""
    kind, book = kinds.get(slug), rulebook.load(name, version)
    right = [0, 0]
    for seed in range(TRIES):
        task = kind.generate(seed, book, level)
        for at, mind in enumerate((hands.Mind(known=hands.ALL), people.blind(seed))):
            given = hands.answer(slug, task, mind, Random(seed))
            right[at] += kind.grade(task, given).passed
    return [each / TRIES for each in right]


@lru_cache(maxsize=1024)
def _lasts(name, version, level, key):
    """
    Return questions of the kind LAST on ``key``, by how they lean: BROKEN, MET or "".

    Each as (sizes in SI, a row a question, and how many of a row meet the rule).
    """
    kind, book = kinds.get(LAST), rulebook.load(name, version)
    tasks = [kind.generate(seed, book, level, (key,)) for seed in range(LASTS)]
    found = {}
    for leaning in LEANINGS:
        # Where none of so few leans that way, any has to do.
        some = [task for task in tasks if drawing.leans(task, leaning)] or tasks
        sizes = np.array([[each.value for each in task.options] for task in some])
        met = [sum(not each.finding.failed for each in task.options) for task in some]
        found[leaning] = sizes, np.array(met)
    return found


# People who take it -------------------------------------------------------------------------------


class _Exam:
    """An exam as arrays see it: who knows what goes in, who passes comes out."""

    def __init__(self, slots, terms, on):
        self.terms = terms
        self.books = {slot.rulebook: rulebook.in_force(slot.rulebook, on) for slot in slots}
        self.rules = sorted(people.rules_of(self.books.values()))
        self.at = {rule: index for index, rule in enumerate(self.rules)}
        self.plain = np.array([limit is True or limit == 0 for __, limit in self.rules])
        self.readings, self.lasts, self.others = defaultdict(list), defaultdict(list), []
        for slot in slots:
            if slot.kind in (READING, LAST):
                by_rule = self.readings if slot.kind == READING else self.lasts
                by_rule[slot.focus[0]].append(slot)
            else:
                self.others.append(slot)
        self.count = len(slots)

    def _requirement(self, slot):
        return self.books[slot.rulebook].requirement(slot.focus[0])

    def passes(self, known, guessed, rng):
        """
        Return who passes one form each: an array of people.

        ``known`` is by person and rule, ``guessed`` the standard normal number by which a
        person's guess of a rule's limit is off.
        """
        points = np.zeros(len(known), dtype=int)
        within = np.ones(len(known), dtype=bool)
        alike = drawing.ALL_ALIKE
        # In the order of the questions, so that the same numbers come out each time.
        for key in dict.fromkeys((*self.readings, *self.lasts)):
            leaning = rng.choice(len(LEANINGS), size=len(known), p=(alike, alike, 1 - 2 * alike))
            wrong = self._wrong_readings(self.readings[key], leaning, known, guessed, rng)
            points += len(self.readings[key]) - wrong
            if key in self.terms.must_pass:
                within &= wrong <= self.terms.must_slips
            for slot in self.lasts[key]:
                points += self._right_last(slot, leaning, known, guessed, rng)
        for slot in self.others:
            points += rng.random(len(known)) < self._chance(slot, known, rng)
        return within & (points * 100 >= self.terms.pass_percent * self.count)

    def _limit(self, requirement, guessed):
        """Return by person the limit that is guessed at."""
        at = self.at[identity(requirement)]
        return requirement.limit * np.exp(GUESSED_WITHIN * guessed[:, at])

    def _wrong_readings(self, slots, leaning, known, guessed, rng):
        wrong = np.zeros(len(known), dtype=int)
        for slot in slots:
            requirement = self._requirement(slot)
            slipped = rng.random(len(known)) < SLIPS.reading[slot.difficulty]
            if requirement.is_plain:
                wrong += slipped
                continue
            coins = rng.random(len(known)) < 0.5
            broken = np.choose(leaning, (True, False, coins))
            value, limit = self._values(slot, broken, rng), self._limit(requirement, guessed)
            said = value > limit if requirement.is_upper else value < limit
            wrong += np.where(known[:, self.at[identity(requirement)]], slipped, said != broken)
        return wrong

    def _right_last(self, slot, leaning, known, guessed, rng):
        requirement = self._requirement(slot)
        slipped = rng.random(len(known)) < SLIPS.reading[slot.difficulty]
        limit = self._limit(requirement, guessed)[:, None]
        book = self.books[slot.rulebook]
        made = _lasts(book.name, book.version, slot.difficulty, slot.focus[0])
        guessed_right = np.zeros(len(known), dtype=bool)
        for at, way in enumerate(LEANINGS):
            sizes, met = made[way]
            picked = rng.integers(len(met), size=len(known))
            said = sizes[picked] <= limit if requirement.is_upper else sizes[picked] >= limit
            guessed_right |= (leaning == at) & (said.sum(axis=1) == met[picked])
        return np.where(known[:, self.at[identity(requirement)]], ~slipped, guessed_right)

    def _values(self, slot, broken, rng):
        book = self.books[slot.rulebook]
        place = (book.name, book.version, slot.difficulty, slot.focus[0])
        picked = rng.integers(READINGS, size=len(broken))
        return np.where(broken, _readings(*place, BROKEN)[picked], _readings(*place, MET)[picked])

    def _chance(self, slot, known, rng):
        book = self.books[slot.rulebook]
        place = (book.name, book.version, slot.difficulty)
        if slot.kind == JudgeRig.slug:
            rules, *made = _rigs(*place)
            picked = rng.integers(RIGS, size=len(known))
            broken, looks, asked = (each[picked] for each in made)
            at = [self.at[rule] for rule in rules]
            knows = known[:, at] | self.plain[at]
            told = np.where(broken, 1 - SLIPS.missed[slot.difficulty], 1 - SLIPS.claimed)
            return np.where(asked, np.where(knows, told, looks == broken), 1).prod(axis=1)
        knowing, blindly = _chances(slot.kind, *place)
        if slot.kind == SpaceDroppers.slug:
            share = known[:, self.at[identity(book.requirement("dropper_spacing"))]]
        else:
            share = known.mean(axis=1)
        return blindly + (knowing - blindly) * share

    def knowing(self, percent, count, rng):
        """Return which rules each of ``count`` people knows who know so many ``percent``."""
        number = len(self.rules) * percent / 100
        number = np.floor(number + rng.random(count)).astype(int)
        order = rng.random((count, len(self.rules))).argsort(axis=1).argsort(axis=1)
        return order < number[:, None]

    def copied(self, count):
        """Return what ``count`` people know who have copied the limits that are asked most."""
        asked = defaultdict(int)
        for slots in (*self.readings.values(), *self.lasts.values()):
            for slot in slots:
                if not self._requirement(slot).is_plain:
                    asked[identity(self._requirement(slot))] += 1
        most = sorted(asked, key=asked.get, reverse=True)[: people.CONSTANTS]
        known = np.zeros((count, len(self.rules)), dtype=bool)
        known[:, [self.at[rule] for rule in most]] = True
        return known


class Terms(NamedTuple):
    """What has to be right for a pass, as a Requirements names it; ``track`` has the aims."""

    pass_percent: int
    must_pass: tuple[str, ...]
    must_slips: int
    track: str

    @classmethod
    def of(cls, requirements):
        """Return the Terms of ``requirements``, saved or not."""
        must = tuple(requirements.must_pass)
        return cls(requirements.pass_percent, must, requirements.must_slips, requirements.track)


@lru_cache(maxsize=64)
def expect(slots, terms, on, seed=1):
    """
    Return what exams of ``slots``, a blueprint's, are Expected to do by ``terms``, Terms.

    ``on`` is the date whose rules they go by. The same arguments give the same figures. It
    takes a second for questions of a new sort, a third of that for others.
    """
    rng = np.random.default_rng(seed)
    exam = _Exam(slots, terms, on)

    def guesses():
        return rng.standard_normal((PEOPLE, len(exam.rules)))

    nothing = np.zeros((PEOPLE, len(exam.rules)), dtype=bool)
    sorts = {BLIND: nothing, CRIB: exam.copied(PEOPLE)}
    passes = {name: exam.passes(known, guesses(), rng).mean() for name, known in sorts.items()}
    twice = {}
    for percent in people.SHARES:
        known, guessed = exam.knowing(percent, PEOPLE, rng), guesses()
        twice[percent] = [exam.passes(known, guessed, rng) for __ in range(2)]
        passes[percent] = np.mean(twice[percent])
    same = sum(
        share * np.mean(twice[percent][0] == twice[percent][1])
        for percent, share in people.HONEST.items()
    )
    enough = {each: share for each, share in people.HONEST.items() if each >= people.ENOUGH}
    less = {each: share for each, share in people.HONEST.items() if each < people.ENOUGH}
    false_pass = sum(passes[each] * share for each, share in less.items())
    false_fail = sum((1 - passes[each]) * share for each, share in enough.items())
    passes = {name: float(share) for name, share in passes.items()}
    told = passes | {SAME: float(same)}
    return Expected(
        passes=passes,
        accurate=float(1 - false_pass - false_fail),
        false_pass=float(false_pass / sum(less.values())),
        false_fail=float(false_fail / sum(enough.values())),
        same=float(same),
        missed=frozenset(
            name for name, aim in AIMS[terms.track].items() if not aim.is_met(told[name])
        ),
    )


# In words ----------------------------------------------------------------------------------------


class Expectation(NamedTuple):
    """A sentence on what is expected, and one on the aim that it misses, empty if it does not."""

    text: str
    missed: str = ""


def told(requirements, slots, on):
    """Return what pages say of what an exam of ``slots`` of ``requirements`` is expected to do."""
    found = expect(tuple(slots), Terms.of(requirements), on)
    return {"lines": in_words(found, requirements.track), "assumed": assumed()}


def in_words(expected, track):
    """Return ``expected`` as Expectations for the people who compose an exam of ``track``."""
    sorts = [
        *((percent, _knowing(percent)) for percent in sorted(people.SHARES, reverse=True)),
        (
            CRIB,
            _("people with a note of the {CONSTANTS} limits asked most").format(
                CONSTANTS=people.CONSTANTS
            ),
        ),
        (BLIND, _("people who know no limit and guess")),
    ]
    lines = [
        Expectation(
            _("Of 100 {who}, {about}.").format(who=who, about=_about(expected.passes[sort])),
            _missed(sort, expected, track),
        )
        for sort, who in sorts
    ]
    enough = people.ENOUGH
    return [
        *lines,
        Expectation(
            _(
                "Of 100 people who take two of these exams, about {of_100} get the same result "
                "twice."
            ).format(of_100=_of_100(expected.same)),
            _missed(SAME, expected, track),
        ),
        Expectation(
            _(
                "Say that knowing {enough} percent is enough. Of 100 people who know less, "
                "{about}. Of 100 who know that or more, {about2}."
            ).format(
                enough=enough,
                about=_about(expected.false_pass),
                about2=_about(expected.false_fail, "fail"),
            )
        ),
    ]


def assumed():
    """Return sentences on what these figures take for granted."""
    mix = [
        _("{value} {value2}").format(
            value=percent_number(share),
            value2=_("know them all")
            if each == 100
            else _("know {each} percent").format(each=each),
        )
        for each, share in sorted(people.HONEST.items())
    ]
    slips = [percent_number(share) for __, share in sorted(SLIPS.reading.items())]
    slips = _("{slips} and {slips2}").format(slips=", ".join(slips[:-1]), slips2=slips[-1])
    error = 196 * (0.25 / PEOPLE) ** 0.5
    return [
        _(
            "These figures do not come from people who took the exam. A computer took it for "
            "{PEOPLE:,} invented people of each sort. By chance a figure can be off by "
            "{error:.0f}."
        ).format(PEOPLE=PEOPLE, error=error),
        _(
            "What these people know and miss is assumed. It has no source, and real people can "
            "differ more than that."
        ),
        _("Of a rule they know, they miss {slips} in 100 readings at levels 1, 2 and 3.").format(
            slips=slips
        ),
        _("The last two lines are of a mixed group. Of 100 in it, {mix}.").format(
            mix=", ".join(mix)
        ),
    ]


def _knowing(percent):
    return (
        _("people who know all the rules")
        if percent == 100
        else _("people who know {percent} percent of the rules").format(percent=percent)
    )


def _of_100(share):
    return percent_number(share) if share >= 0.005 else "none"


def _about(share, does="pass"):
    number = _of_100(share)
    if number == "none":
        return _("almost none {does}").format(does=does)
    return _("about {number} {value}").format(
        number=number, value=does if number != "1" else does + ("es" if does == "pass" else "s")
    )


def _missed(sort, expected, track):
    if sort not in expected.missed:
        return ""
    aim = AIMS[track][sort]
    return (
        _("The aim is at least {percent}.") if aim.at_least else _("The aim is at most {percent}.")
    ).format(percent=percent_number(aim.share))
