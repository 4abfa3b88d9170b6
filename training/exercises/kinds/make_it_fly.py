"""Make it fly: which changes would mend a net that flies too low, too high or lopsided?"""

from dataclasses import dataclass
from functools import cached_property, lru_cache, partial
from math import inf

from django import forms
from django.utils.translation import gettext as _

from rigs.drawing.in_flight import five_places
from rigs.physics.practice import FOOTROPE_HEIGHT
from rigs.rules.judge import FAIL, PASS
from rigs.tuning.flights import mended, table, told
from rigs.tuning.flights.nets import HIGH, LOPSIDED, LOW
from rigs.words.say import gettext_lazy
from rigs.words.units import INCH

from .base import AnswerForm, Kind, Line, Marked, Picture, Task
from .foretelling import OTHERWISE, WRONG, Foretold, Part, Piece, any_ticked, tally, ticked, wrong

NONE = "none"
TABLE = "exercises/moves_table.html"
OPTIONS = {1: 3, 2: 4, 3: 4}
AILS = (LOW, HIGH, LOPSIDED)
# How far the flight after a change lies from being judged otherwise, on either side, by level.
OFF = {1: (2.5 * INCH, inf), 2: (1.25 * INCH, 6 * INCH), 3: (0.5 * INCH, 3 * INCH)}
SKILL = gettext_lazy("what a change does to the height")  # what a modelled person has to know


@dataclass(frozen=True, kw_only=True)
class FlyTask(Task):
    """
    A net of the table of flights by its name ``net``, and changes by theirs, as ``offered``.

    ``tried`` is another change, of which is said what it did.
    """

    net: str
    offered: tuple[str, ...]
    tried: str

    @cached_property
    def flights(self):
        """The net as it flies now."""
        return table.found(self.net)

    @cached_property
    def changes(self):
        """What the rule module makes of each one offered, by its name."""
        return {key: self._made(key) for key in self.offered}

    @property
    def tried_before(self):
        """What it makes of the change that was tried."""
        return self._made(self.tried)

    def _made(self, key):
        return mended.of(self.flights, key, self.rulebook)

    @property
    def right(self):
        """The names of those that mend the net, as a list, or NONE alone."""
        return [key for key, each in self.changes.items() if each.mends] or [NONE]


class FlyForm(AnswerForm):
    """All changes that would mend the net, or none."""

    mends = forms.MultipleChoiceField(
        label=gettext_lazy("Which of these would do, each by itself?"),
        help_text=gettext_lazy("Check every one that would. It can be none of them."),
        widget=forms.CheckboxSelectMultiple,
        error_messages={"required": gettext_lazy("Check each that would do, or “None of these”.")},
    )

    def __init__(self, *args, **kwargs):
        super().__init__(*args, **kwargs)
        rig = self.task.flights.ailing.rig
        self.fields["mends"].choices = [
            *((key, each.flight.mend.words(rig)) for key, each in self.task.changes.items()),
            (NONE, _("None of these")),
        ]

    def clean_mends(self):
        said = self.cleaned_data["mends"]
        if NONE in said and len(said) > 1:
            raise forms.ValidationError(
                _("You checked changes and “None of these” too. Leave one or the other.")
            )
        return said


class MakeItFly(Kind):
    """A net that flies wrong; the trainee says which changes would mend it within the rules."""

    slug = "make-it-fly"
    order = 5
    title = gettext_lazy("Make it fly")
    summary = gettext_lazy(
        "A net flies too low, too high or lower on one side: which changes would put it right?"
    )
    template = "exercises/make_it_fly.html"
    form_class = FlyForm
    seconds = 120

    def suits(self, rulebook):
        # The nets of the table have no sweep.
        return not rulebook.has("sweep_stock")

    def generate(self, seed, rulebook, difficulty, focus=()):
        """
        Return the task, of which each change is as likely to mend the net as not.

        As far as there are as many that do: what makes a lopsided net even is mostly one.
        """
        rng = self.rng(seed, rulebook, difficulty)
        pools = _pools(rulebook, difficulty)
        ails, fit = rng.choice(AILS), []
        while not fit:
            sides = [rng.random() < 0.5 for __ in range(OPTIONS[difficulty])]
            fit = [each for each in pools if each.ails == ails and each.can_serve(sides)]
        pool = rng.choice(fit)
        offered = [
            *rng.sample(pool.right, sum(sides)),
            *rng.sample(pool.wrong, len(sides) - sum(sides)),
        ]
        rng.shuffle(offered)
        return FlyTask(
            seed=seed,
            rulebook=rulebook,
            difficulty=difficulty,
            net=pool.net,
            offered=tuple(offered),
            tried=rng.choice([key for key in pool.every if key not in offered]),
        )

    def shown(self, task):
        rig = task.flights.ailing.rig
        before = task.tried_before
        return {
            "now": told.now(task.flights),
            "asked": told.asked(before),
            "is_lopsided": before.is_lopsided,
            "parts": list(told.parts(task.flights)),
            "places": told.places(task.flights),
            "picture": _now(task),
            "tried": before.flight.mend.words(rig),
            "did": told.tried_before(before),
            "elsewhere": [
                (each.flight.mend.words(rig), told.elsewhere(each))
                for each in task.changes.values()
            ],
        }

    def any_answer(self, task):
        return {"mends": [task.offered[0]]}

    def hand(self, task, mind, rng):
        said = [
            key for key, each in task.changes.items() if _says(each, mind, task.difficulty, rng)
        ]
        return {"mends": said or [NONE]}

    def truth(self, task, book):
        """Which rules each of the changes would break."""
        keys = {}
        for at, key in enumerate(task.offered):
            for finding in mended.of(task.flights, key, book).broken:
                keys.setdefault(finding.key, set()).add(at)
        return keys

    def grade(self, task, answer):
        checked = set(self.read(task, answer)["mends"])
        lines = []
        for key, each in task.changes.items():
            lines += _lines(task, each, key in checked)
        return Marked(
            lines=tuple(lines),
            passed=all(line.right for line in lines),
            table=_table(task),
            table_by=TABLE,
        )

    def foretold(self, task):
        """Tell of each change, checked or not; it is a pass if none of that is wrong."""
        marked = {
            "no": self.grade(task, {"mends": [NONE]}),
            "yes": self.grade(task, {"mends": list(task.offered)}),
        }
        parts = []
        for key in task.offered:
            pieces = {}
            for said, each in marked.items():
                own = tuple(line for line in each.lines if line.key.partition("/")[0] == key)
                pieces[said] = Piece(own, counts=wrong(own[0]))
            parts.append(Part(ticked("mends", key, alone=NONE), pieces))
        passes = {"0": Piece(passed=True), OTHERWISE: Piece(passed=False)}
        parts.append(Part(tally(WRONG), passes))
        # Told once, whatever was checked: its drawings are large.
        shown = Piece(table=marked["no"].table, table_by=marked["no"].table_by)
        return Foretold((*parts, Part(any_ticked("mends"), {OTHERWISE: shown})))


@dataclass(frozen=True)
class _Pool:
    """Changes of one net whose miss is as large as a level has it, by their names."""

    net: str
    ails: str
    right: tuple[str, ...]
    wrong: tuple[str, ...]
    every: tuple[str, ...]

    def can_serve(self, sides):
        """Return whether there are as many of each as ``sides`` has, and another was tried."""
        right = sum(sides)
        return (
            len(self.right) >= right
            and len(self.wrong) >= len(sides) - right
            and len(self.every) > len(sides)
        )


@lru_cache(maxsize=12)
def _pools(rulebook, level):
    """Return the _Pool of each net: the same for all seeds, and slow to ask the judge for."""
    nearest, farthest = OFF[level]
    pools = []
    for flights in table.flights():
        every = mended.all_of(flights, rulebook)
        fit = [each for each in every if nearest <= each.off <= farthest]
        pools.append(
            _Pool(
                flights.ailing.key,
                flights.ailing.ails,
                tuple(each.flight.mend.key for each in fit if each.mends),
                tuple(each.flight.mend.key for each in fit if not each.mends),
                tuple(each.flight.mend.key for each in every),
            )
        )
    return tuple(pools)


def _says(each, mind, level, rng):
    """Return whether a modelled person takes a change for one that mends the net."""
    if not mind.directed and not mind.knows(SKILL):
        return rng.random() < 0.5
    broken = any(mind.reading_breaks(finding, level, rng) for finding in each.broken)
    if mind.knows(SKILL):
        flies = (each.fault is None) is not mind.slips_on(mind.slips.work[level], rng)
    else:
        # The trade's rule of thumb tells the way, and nothing of how far.
        thumb = each.flight.mend.thumb
        flies = thumb == each.way if each.way else rng.random() < 0.5
    return flies and not broken


def _lines(task, each, said):
    """Yield the line of a change, and one for each rule that it breaks."""
    key = each.flight.mend.key
    title = each.flight.mend.words(task.flights.ailing.rig)
    right = each.mends is said
    thumb = told.thumb(each)
    yield Line(
        key=key,
        title=title,
        outcome=PASS if each.mends else FAIL,
        right=right,
        marks=int(right),
        out_of=1,
        yours=_("it would do") if said else _("it would not do"),
        measured_text=told.found(each),
        allowed_text=told.asked(each),
        margin_text=told.verdict(each),
        source=_("By rule of thumb it {thumb} (common practice, no source)").format(thumb=thumb)
        if thumb
        else "",
    )
    for finding in each.broken:
        yield Line.of(
            finding,
            key=f"{key}/{finding.key}",
            title=_("{rule}: {change}").format(rule=finding.title, change=title),
            # One fault all along a rope: naming each gap of it would say nothing.
            places=(),
            right=right,
            marks=0,
            out_of=0,
        )


def _now(task):
    """Return the net drawn as it flies now."""
    flights = task.flights
    scene = five_places(
        flights.ailing.rig,
        flights.before,
        FOOTROPE_HEIGHT,
        shine=flights.shine,
        speed=flights.ailing.speed,
    )
    return Picture(_("The net from ahead, as it flies now"), scene)


def _after(task, each):
    """Return the net drawn as it flies after a change, with its footrope before."""
    scene = five_places(
        each.rig,
        each.flight.after,
        each.window,
        speed=task.flights.ailing.speed,
        before=task.flights.before,
    )
    return Picture(each.flight.mend.words(task.flights.ailing.rig), scene)


def _table(task):
    """Return what each change does, place by place, for the page."""
    rig = task.flights.ailing.rig
    return tuple(
        {
            "name": each.flight.mend.words(rig),
            "mends": each.mends,
            "picture": partial(_after, task, each),  # drawn only when it is looked at
            "places": told.by_place(each),
            "rules": told.rules(each),
            "thumb": told.thumb(each),
        }
        for each in task.changes.values()
    )
