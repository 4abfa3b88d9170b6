"""Choose the chain for the droppers."""

from dataclasses import dataclass, replace
from math import ceil, floor, inf
from typing import NamedTuple

from django import forms
from django.utils.translation import gettext as _

from rigs.make.ropes import footrope
from rigs.physics import chain
from rigs.physics.chain import Choice
from rigs.requirements import layout
from rigs.rules.judge import FAIL, PASS, judge
from rigs.words.gear import Footrope, Headrope, Rig
from rigs.words.say import gettext_lazy
from rigs.words.units import FOOT, INCH, POUND, feet_inches, inches, pounds

from .base import EASIEST, HARDEST, AnswerForm, Kind, Line, Marked, Task

CHOICES = tuple(Choice(stock, count) for stock in chain.STOCKS.values() for count in (1, 2))

# A need lies at least this far from the weight of any choice, so that an answer worked
# out with the rounded weights on the page comes out the same.
CLEAR = 0.03

FAR = 1.2  # at level 1 a wrong choice differs by as much from the right one at least
REACH = 1.5  # how far a need may lie beyond the lightest and the heaviest choice


@dataclass(frozen=True, kw_only=True)
class ChainTask(Task):
    """
    Droppers for one footrope, and how heavy they may or must be in sea water.

    ``at_least`` is kilograms at each place, ``at_most`` kilograms in all.
    """

    footrope: Footrope
    length: float
    at_least: float = 0.0
    at_most: float = inf

    @property
    def places(self):
        """How many places along the footrope have a dropper."""
        return len(layout.dropper_places(self.footrope, self.rulebook))

    def at_each(self, choice):
        """Return the kilograms in sea water of ``choice`` at one place."""
        return chain.mass_in_sea_water(choice.stock, self.length, choice.count)

    def in_all(self, choice):
        """Return the kilograms in sea water of ``choice`` at every place."""
        return self.at_each(choice) * self.places

    def size_finding(self, choice):
        """Return the rule module's Finding on the size of the chain."""
        return _size_finding(self.footrope, self.rulebook, self.length, choice)

    def meets_need(self, choice):
        """Return whether ``choice`` is as heavy as is asked, legal or not."""
        return self.at_each(choice) >= self.at_least and self.in_all(choice) <= self.at_most

    def will_do(self, choice):
        """Return whether ``choice`` is a right answer."""
        return not self.size_finding(choice).failed and self.meets_need(choice)


def _size_finding(footrope, rulebook, length, choice):
    droppers = layout.droppers(footrope, rulebook, length, choice.stock.size, choice.count)
    rig = Rig(Headrope(None), footrope, droppers=droppers, floats=None)
    return judge(rig, rulebook).finding("dropper_stock")


class _Gap(NamedTuple):
    """
    Where a need may lie: between ``low`` and ``high``, and clear of each of ``weights``.

    All in kilograms; ``steps`` is the pounds that it is rounded to.
    """

    low: float
    high: float
    steps: float
    weights: list[float]

    @property
    def needs(self):
        """The round needs in it."""
        step = self.steps
        numbers = range(ceil(self.low / POUND / step), floor(self.high / POUND / step) + 1)
        needs = [number * step * POUND for number in numbers]
        return [need for need in needs if self.nearness(need) > CLEAR]

    def nearness(self, need):
        """Return by what share of it the nearest of the weights differs from ``need``."""
        return min(abs(need / weight - 1) for weight in self.weights)


def _round_need(rng, gap, level):
    """
    Return a round need in ``gap``, None if there is none.

    It is in the middle at level 1, and beside the one weight or the other at level 3.
    """
    by_nearness = sorted(gap.needs, key=gap.nearness)
    if not by_nearness:
        return None
    third = ceil(len(by_nearness) / 3)
    if level == EASIEST:
        by_nearness = by_nearness[-third:]
    elif level == HARDEST:
        by_nearness = by_nearness[:third]
    return rng.choice(by_nearness)


class ChainForm(AnswerForm):
    """One stock, single or double."""

    stock = forms.ChoiceField(
        label=gettext_lazy("Chain"),
        choices=[(name, gettext_lazy("{name} chain").format(name=name)) for name in chain.STOCKS],
        widget=forms.RadioSelect,
        error_messages={"required": gettext_lazy("Choose a chain.")},
    )
    count = forms.TypedChoiceField(
        label=gettext_lazy("How many at each place"),
        choices=[
            ("1", gettext_lazy("Single: one chain")),
            ("2", gettext_lazy("Double: two chains side by side")),
        ],
        coerce=int,
        widget=forms.RadioSelect,
        error_messages={"required": gettext_lazy("Choose single or double.")},
    )


class PickChain(Kind):
    """A need in pounds; the trainee picks stock and single or double."""

    slug = "pick-chain"
    order = 2
    title = gettext_lazy("Pick the chain")
    summary = gettext_lazy(
        "Choose dropper chain of an allowed size that weighs what the net needs."
    )
    template = "exercises/pick_chain.html"
    form_class = ChainForm
    seconds = 60

    covers_all = True

    def covers(self, rulebook, difficulty):
        return ("dropper_stock",)

    def generate(self, seed, rulebook, difficulty, focus=()):
        rng = self.rng(seed, rulebook, difficulty)
        rope = footrope(rng, rulebook, difficulty)
        length = rulebook.requirement("dropper_length").limit + rng.randint(0, 6) * INCH
        bare = ChainTask(
            seed=seed,
            rulebook=rulebook,
            difficulty=difficulty,
            footrope=rope,
            length=length,
        )
        while True:
            needs = self._needs(rng, bare, difficulty)
            if None not in needs:
                return replace(bare, at_least=needs[0], at_most=needs[1])

    @staticmethod
    def _needs(rng, bare, level):
        """Return a floor and a ceiling that one allowed choice, each as likely, lies between."""
        allowed = [each for each in CHOICES if not bare.size_finding(each).failed]
        target = rng.choice(allowed)
        own = bare.at_each(target)
        each = sorted(bare.at_each(choice) for choice in CHOICES)
        legal = sorted(bare.at_each(choice) for choice in allowed)
        apart = FAR if level == EASIEST else 1 + 2 * CLEAR
        # Choices that are hardly apart in weight are right or wrong together.
        lighter = max((w for w in legal if w * apart < own), default=own / REACH)
        heavier = min((w for w in legal if w > own * apart), default=own * REACH)
        low = _round_need(rng, _Gap(lighter, own, 0.1, each), level)
        in_all = [weight * bare.places for weight in each]
        gap = _Gap(own * bare.places, heavier * bare.places, 1, in_all)
        high = _round_need(rng, gap, level)
        return low, high

    def shown(self, task):
        return {
            "places": task.places,
            "length_text": inches(task.length),
            "footrope_text": feet_inches(task.footrope.length),
            "at_least_text": pounds(task.at_least),
            "at_most_text": pounds(task.at_most),
            # The first tasks spare the trainee the step from air to water.
            "in_water": task.difficulty == EASIEST,
            "kept_text": f"{chain.KEPT_IN_SEA_WATER:.3f}",
            "stocks": [
                {
                    "name": stock.name,
                    "air": pounds(chain.mass(stock, FOOT), 2),
                    "water": pounds(chain.mass_in_sea_water(stock, FOOT), 2),
                }
                for stock in chain.STOCKS.values()
            ],
        }

    def any_answer(self, task):
        return {"stock": CHOICES[0].stock.name, "count": str(CHOICES[0].count)}

    def hand(self, task, mind, rng):
        """Pick the lightest chain that is heavy enough and, as far as is known, allowed."""
        stock = task.rulebook.requirement("dropper_stock")
        slips = mind.slips_on(mind.slips.work[task.difficulty], rng)
        fit = [each for each in CHOICES if task.meets_need(each)]
        if mind.knows(stock):
            fit = [each for each in fit if task.will_do(each)]
        elif mind.directed:
            fit = [each for each in fit if each.stock.size <= mind.limit(stock)]
        else:
            fit = []
        choice = rng.choice(CHOICES) if slips or not fit else min(fit, key=task.at_each)
        return {"stock": choice.stock.name, "count": str(choice.count)}

    def truth(self, task, book):
        """Which choices are legal, and which weigh what is asked."""
        under = replace(task, rulebook=book)
        found = {}
        if book.has("dropper_stock"):
            found["dropper_stock"] = [under.size_finding(each).failed for each in CHOICES]
        # The weight in all follows from how many hang along the footrope.
        if book.lays_out_rig:
            found["dropper_spacing"] = [under.meets_need(each) for each in CHOICES]
        return found

    def grade(self, task, answer):
        cleaned = self.read(task, answer)
        choice = Choice(chain.STOCKS[cleaned["stock"]], cleaned["count"])
        finding = task.size_finding(choice)
        right = not finding.failed
        # One chain for all places, so that naming each of them would say nothing.
        said = {"yours": str(choice), "places": ()}
        lines = [Line.of(finding, right=right, marks=int(right), out_of=1, **said)]
        lines += self._weight_lines(task, choice)
        passed = task.will_do(choice)
        return Marked(
            lines=tuple(lines),
            passed=passed,
            remarks=tuple(self._remarks(task, choice)) if passed else (),
            table=tuple(self._row(task, each, choice) for each in CHOICES),
        )

    def _weight_lines(self, task, choice):
        common = {
            "yours": str(choice),
            "out_of": 1,
            "source": _("Weight worked out from the links. Link sizes: {source}.").format(
                source=choice.stock.source
            ),
        }
        spare = task.at_each(choice) - task.at_least
        yield Line(
            key="weight_at_least",
            title=_("Heavy enough at each place"),
            measured_text=_("{pounds} in sea water").format(pounds=pounds(task.at_each(choice))),
            allowed_text=_("at least {pounds}").format(pounds=pounds(task.at_least)),
            remedy="" if spare >= 0 else _("Pick heavier chain, or hang two side by side."),
            why=_("Too light, and the net rises off the fish."),
            **self._judged(spare),
            **common,
        )
        spare = task.at_most - task.in_all(choice)
        yield Line(
            key="weight_at_most",
            title=_("Light enough in all"),
            measured_text=_("{pounds} in sea water").format(pounds=pounds(task.in_all(choice))),
            allowed_text=_("at most {pounds}").format(pounds=pounds(task.at_most)),
            remedy="" if spare >= 0 else _("Pick lighter chain, or hang one instead of two."),
            why=_("Too heavy, and the floats cannot hold the footrope up."),
            **self._judged(spare),
            **common,
        )

    @staticmethod
    def _judged(spare):
        """Return the fields of a Line for ``spare`` kilograms on the right side of a need."""
        right = spare >= 0
        amount = pounds(abs(spare))
        return {
            "outcome": PASS if right else FAIL,
            "right": right,
            "marks": int(right),
            "margin_text": _("{amount} to spare").format(amount=amount)
            if right
            else _("{amount} off").format(amount=amount),
        }

    def _remarks(self, task, choice):
        """Yield a word on lighter chain that would have done as well."""
        lighter = min((each for each in CHOICES if task.will_do(each)), key=task.at_each)
        if lighter != choice:
            saved = task.in_all(choice) - task.in_all(lighter)
            yield (
                _("{str} would also work, and weighs {pounds} less.").format(
                    str=str(lighter).capitalize(), pounds=pounds(saved)
                )
            )

    def _row(self, task, choice, chosen):
        """Return one row of the table of all choices, as text."""
        finding = task.size_finding(choice)
        ratios = {
            each.basis: f"{each.value:.2f}" for each in chain.compare(choice, chain.ONE_HEAVY)
        }
        return {
            "name": str(choice).capitalize(),
            "chosen": choice == chosen,
            "each": pounds(task.at_each(choice)),
            "all": pounds(task.in_all(choice)),
            "allowed": not finding.failed,
            "clause": finding.clause,
            "meets_need": task.meets_need(choice),
            "will_do": task.will_do(choice),
            "against": str(chain.ONE_HEAVY),
            "geometry": ratios[chain.LINK_GEOMETRY],
            "area": ratios[chain.NOMINAL_AREA],
            "thumb": ratios.get(chain.RULE_OF_THUMB, ""),
        }
