"""
A rule set tried out on all that goes by it, before anybody is judged by it.

Lessons, exercises, exams and plans each need some of its rules. A version that takes
one of them out, or sets a limit that no rig could keep, would stop them on its first day.
"""

import logging
import random
from copy import copy
from datetime import timedelta

from django.utils.translation import gettext as _

from rigs import plan, tuning
from rigs.make import sample
from rigs.rules import rulebook
from rigs.rules.book import NoRequirement
from training.certification import blueprints
from training.certification.models import Requirements
from training.exercises import kinds
from training.lessons import loader

log = logging.getLogger("training.rulesets")

SEEDS = range(3)  # tasks of each sort that are tried
MOST_DRAWS = 200_000  # random numbers; a task that can be made takes some hundreds

LESSONS, SCHEMES, NETS, CATCH = "lessons", "requirements_list", "nets", "catch"


class NeverDone(Exception):
    """A task was drawn over and over again and none would do."""


class _Patience(random.Random):
    """Random numbers, the same as ever, that run out."""

    left = MOST_DRAWS

    def _spend(self):
        self.left -= 1
        if self.left < 0:
            raise NeverDone(_("no task comes about, however often it is drawn"))

    def random(self):
        self._spend()
        return super().random()

    def getrandbits(self, bits):
        self._spend()
        return super().getrandbits(bits)


def _rng_of(slug):
    """Return what makes the random numbers of the kind ``slug``, as ``Kind.rng`` does."""

    def rng(seed, book, difficulty):
        return _Patience(f"{slug}/{seed}/{book.name}/{book.version}/{difficulty}")

    return rng


def parts(book):
    """Return the parts of the site that go by ``book``: what ``troubles`` takes one by one."""
    found = [LESSONS, SCHEMES]
    found += [
        slug
        for slug, kind in kinds.KINDS.items()
        if any(book.name in names for names in kind.rulebooks.values())
    ]
    return [*found, NETS, CATCH]


def troubles(part, book, text):
    """
    Return what does not work in one of ``parts`` from the first day of ``book``, as sentences.

    ``text`` is that of ``book``; it is on the shelf while it is tried.
    """
    tries = {LESSONS: _lessons, SCHEMES: _requirements_list, NETS: _nets, CATCH: _catch}
    with rulebook.trying(_("the draft"), text):
        if part in tries:
            return list(tries[part](book))
        return list(_exercises(kinds.get(part), book))


def _lessons(book):
    for path in sorted(loader.FOLDER.glob("*.md")):
        try:
            loader.by_rules_of(book.effective_from, path)
        # A lesson says what it lacks; its drawings stumble over the rule that they draw.
        except Exception as error:
            yield _("The lesson “{title}” cannot be shown: {words}.").format(
                title=_lesson(path), words=_words(error)
            )


def _requirements_list(book):
    for requirements in Requirements.objects.filter(is_open=True).prefetch_related("parts"):
        if book.name not in requirements.rulebooks:
            continue
        try:
            blueprints.of_requirements(requirements)
        except blueprints.RequirementsError:
            continue  # no exam can be made of it as it is
        try:
            blueprints.of_requirements(requirements, book.effective_from)
        except blueprints.RequirementsError as error:
            yield _("No exam for “{title}” can be made: {error}").format(
                title=requirements.title, error=error
            )


def _tasks(kind, difficulty, book):
    """Yield the (seed, focus) of the tasks to try."""
    for seed in SEEDS:
        yield seed, ()
    for key in kind.covers(book, difficulty):
        yield SEEDS[0], (key,)


def _exercises(kind, book):
    trial = copy(kind)
    trial.rng = _rng_of(kind.slug)
    for difficulty, names in kind.rulebooks.items():
        if book.name not in names:
            continue
        try:
            for seed, focus in _tasks(trial, difficulty, book):
                task = trial.generate(seed, book, difficulty, focus)
                trial.shown(task)
                trial.form(task)()
                trial.grade(task, trial.any_answer(task))
        # Whatever it is that a kind stumbles over, it must not do so before a trainee.
        except Exception as error:
            yield (
                _("The exercise “{title}” cannot be set at level {difficulty}: {words}.").format(
                    title=kind.title, difficulty=difficulty, words=_words(error)
                )
            )


def _words(error):
    """
    Return what went wrong, short, in words for who drafts: no name that only programs know.

    What the project did not put into a sentence is for the log.
    """
    if missing := _missing(error):
        return _("it needs the rule “{title}”, which this draft has not got").format(title=missing)
    ours = type(error).__module__.partition(".")[0] in {"rigs", "training"}
    text = " ".join(str(part) for part in error.args)
    if (ours or type(error) is ValueError) and " " in text:
        return text.rstrip(".")
    log.warning("a part of the site does not work by a draft", exc_info=error)
    return _("something that it needs is missing, or a limit lies where none can be met")


def _missing(error):
    """Return what the requirement is called for whose lack ``error`` was raised; "" for others."""
    while error is not None and not isinstance(error, NoRequirement):
        error = error.__cause__ or error.__context__
    if error is None:
        return ""
    # As the versions before call it, or else other rule sets.
    books = (*reversed(rulebook.versions(error.name)), *rulebook.everything())
    return next((book.requirement(error.key).title for book in books if book.has(error.key)), "")


def _lesson(path):
    """Return what the lesson in ``path`` is called."""
    titles = (
        each.title for each in loader.all_lessons() if path.stem.partition("-")[2] == each.slug
    )
    return next(titles, path.stem)


def _nets(book):
    day = book.effective_from
    goals = {goal.name: goal for goal in plan.goals(day)}
    for was in plan.goals(day - timedelta(days=1)):
        if was.name not in goals and book.name in (was.name, *was.gear):
            yield _("Nets can no longer be planned for “{title}”.").format(title=was.title)
    with_sweep = rulebook.in_force("chain-sweep", day)
    for name, goal in goals.items():
        try:
            gear, fishery = plan.books_for(name, day)
            if book.name not in {"chain-sweep", gear.name, fishery and fishery.name}:
                continue
            rig = sample.legal_rig(_Patience(name), with_sweep)
            plan.plan(rig, gear, plan.default_choices(rig, gear), fishery, day)
        except Exception as error:  # as with the exercises
            yield _("A net cannot be planned for “{title}”: {words}.").format(
                title=goal.title, words=_words(error)
            )


def _catch(book):
    try:
        tuning.standard(book.effective_from)
    except KeyError as error:
        yield _("The shine log has no standard for the catch: {words}.").format(words=_words(error))
