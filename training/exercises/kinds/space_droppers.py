"""Hang droppers along a footrope."""

from dataclasses import dataclass, replace

from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from rigs.drawing.plan import plan_view
from rigs.drawing.straight import Rings, straight_view
from rigs.make.ropes import bare_rope
from rigs.physics import chain
from rigs.requirements import layout
from rigs.rules.judge import FAIL, PASS, judge
from rigs.words import units
from rigs.words.gear import SIDES, Dropper, Footrope, Headrope, Rig, Sweep
from rigs.words.places import off_center
from rigs.words.say import gettext_lazy
from rigs.words.units import INCH, feet_inches

from .base import Kind, Line, Marked, Picture, Task
from .spacing_form import SpacingForm, answer_at, positions
from .spacing_hand import hung_by
from .spacing_told import foretold

# What is judged here: the first for the whole rope, the others for each side alone.
KEYS = ("dropper_at_centre", "dropper_at_corners", "dropper_spacing")

# Judged too where there is a sweep for the lower ends to meet.
ATTACHMENT = "sweep_attachment"


@dataclass(frozen=True, kw_only=True)
class SpacingTask(Task):
    """A bare footrope, and the length and chain of the droppers to hang on it."""

    footrope: Footrope
    length: float
    diameter: float

    @property
    def has_sweep(self):
        """Whether the droppers hang down to a sweep, by the rule set of the task."""
        return self.rulebook.has(ATTACHMENT)

    def rig(self, positions, on_sweep=None):
        """
        Return the footrope with droppers at ``positions``, signed metres from the center.

        ``on_sweep`` is how far from the sweep's center the one farthest to port meets it, in
        metres; without it there is no sweep.
        """
        droppers = [Dropper(at, self.length, self.diameter) for at in sorted(positions)]
        if on_sweep is None:
            return Rig(Headrope(None), self.footrope, droppers=tuple(droppers), floats=None)
        hung = [replace(each, sweep_position=each.position) for each in droppers]
        sign = 1 if hung[0].position > 0 else -1
        hung[0] = replace(hung[0], sweep_position=sign * on_sweep)
        sweep = Sweep(None, None, self.diameter)
        return Rig(Headrope(None), self.footrope, droppers=tuple(hung), floats=None, sweep=sweep)

    @property
    def fewest(self):
        """Where the fewest droppers go that will do, signed metres, port to starboard."""
        return tuple(
            place.position for place in layout.dropper_places(self.footrope, self.rulebook)
        )


def _side_of(spot):
    """Return the side of a corner ("port corner") or of a stretch of wing."""
    return spot.partition(" ")[0] if isinstance(spot, str) else spot[0]


def _by_side(rig, finding):
    """
    Yield (side, Finding) for each side of ``rig``, so that each earns its own mark.

    Readings and the places that fail are the rule module's own, sorted by side.
    """
    values, spots = finding.requirement.read(rig)
    for side in SIDES:
        worst = max(v for v, s in zip(values, spots, strict=True) if _side_of(s) == side)
        failing = tuple(spot for spot in finding.spots if _side_of(spot) == side)
        yield (
            side,
            finding._replace(
                outcome=FAIL if failing else PASS,
                measured=worst,
                margin=finding.requirement.limit - worst,
                spots=failing,
            ),
        )


def _whole_inches(position):
    """Return metres as whole inches, on which every mark of a drawn footrope falls."""
    return round(position / INCH)


class SpaceDroppers(Kind):
    """A drawn footrope; the trainee hangs the droppers."""

    slug = "space-droppers"
    order = 1
    title = gettext_lazy("Space the droppers")
    summary = gettext_lazy("Hang the fewest droppers along a footrope that the rules allow.")
    template = "exercises/space_droppers.html"
    form_class = SpacingForm
    seconds = 120
    exam_seconds = 180

    covers_all = True

    def covers(self, rulebook, difficulty):
        return (*KEYS, ATTACHMENT) if rulebook.has(ATTACHMENT) else KEYS

    def generate(self, seed, rulebook, difficulty, focus=()):
        rng = self.rng(seed, rulebook, difficulty)
        footrope = bare_rope(rng, rulebook, difficulty)
        stock = rulebook.requirement("dropper_stock").limit
        length = rulebook.requirement("dropper_length").limit + rng.randint(0, 6) * INCH
        return SpacingTask(
            seed=seed,
            rulebook=rulebook,
            difficulty=difficulty,
            footrope=footrope,
            length=length,
            diameter=stock,
        )

    def shown(self, task):
        rope = task.footrope
        return {
            "parts": [
                (_("Footrope"), feet_inches(rope.length)),
                (_("Bosom, corner to corner"), feet_inches(rope.bosom)),
                (_("Port wing"), feet_inches(rope.port_wing)),
                (_("Starboard wing"), feet_inches(rope.starboard_wing)),
            ],
            "pictures": [Picture(_("The bare footrope"), straight_view(rope))],
            # For the script's board, in inches from the center, port negative.
            "board": {
                "marks": [
                    {"name": _("port wing end"), "at": _whole_inches(rope.port_end)},
                    {"name": _("port corner"), "at": _whole_inches(rope.port_corner)},
                    {"name": "center", "at": 0},
                    {"name": _("starboard corner"), "at": _whole_inches(rope.starboard_corner)},
                    {"name": _("starboard wing end"), "at": _whole_inches(rope.starboard_end)},
                ],
            },
        }

    def any_answer(self, task):
        return answer_at([0.0])

    def hand(self, task, mind, rng):
        return hung_by(task, mind, rng)

    def truth(self, task, book):
        """Where the fewest droppers go."""
        if not book.lays_out_rig:
            return {}
        places = replace(task, rulebook=book).fewest
        return {"dropper_spacing": [round(place, 6) for place in places]}

    def grade(self, task, answer):
        cleaned = self.read(task, answer)
        placed = positions(cleaned)
        lines = self._lines(task, placed, cleaned.get("on_sweep"))
        return Marked(
            lines=lines,
            passed=all(line.right for line in lines),
            draw=lambda: self._pictures(task, placed),
            remarks=tuple(self._remarks(task, placed)),
        )

    def lines(self, task, answer):
        """Return the Lines of ``answer``, raw, without what costs nothing and takes long."""
        cleaned = self.read(task, answer)
        return self._lines(task, positions(cleaned), cleaned.get("on_sweep"))

    def _lines(self, task, placed, on_sweep):
        rig = task.rig(placed, on_sweep)
        verdict = judge(rig, task.rulebook)
        lines = [self._line(verdict.finding(KEYS[0]))]
        for key in KEYS[1:]:
            for side, finding in _by_side(rig, verdict.finding(key)):
                lines.append(self._line(finding, side))
        if task.has_sweep:
            lines.append(self._line(verdict.finding(ATTACHMENT)))
        return (*lines, self._count_line(task, placed, all(line.right for line in lines)))

    def foretold(self, task):
        return foretold(self, task)

    @staticmethod
    def _count_line(task, placed, all_met):
        """Return the line on how many droppers hang; a point only if they meet the rules too."""
        hung, enough = len(placed), len(task.fewest)
        right = all_met and hung <= enough
        more = _("{value} too many").format(value=hung - enough) if hung > enough else ""
        return Line(
            key="fewest",
            title=_("No more droppers than needed"),
            outcome=PASS if right else FAIL,
            right=right,
            marks=int(right),
            out_of=1,
            yours=ngettext(
                "{hung} dropper",
                "{hung} droppers",
                hung,
            ).format(hung=hung),
            measured_text=_("the fewest that meet the rules are {enough}").format(enough=enough),
            allowed_text=_("no more than needed, and every rule met"),
            margin_text=more,
            source=_("No rule asks for the fewest. This question does."),
        )

    @staticmethod
    def _line(finding, side=None):
        """Return the line on ``finding``, worth a mark; ``side`` if it is of one side alone."""
        right = not finding.failed
        told = {"right": right, "marks": int(right), "out_of": 1}
        if side is not None:
            told |= {"key": f"{finding.key}:{side}", "title": f"{finding.title}: {side}"}
        return Line.of(finding, **told)

    def _pictures(self, task, placed):
        """Yield the fewest droppers that will do drawn over the trainee's own."""
        right, own = task.rig(task.fewest), task.rig(placed)
        verdict = judge(own, task.rulebook)
        told = tuple(each for each in verdict.findings if each.key in KEYS)
        verdict = verdict._replace(findings=told)
        names = (_("will do"), "yours")
        straight = straight_view(task.footrope, right.droppers, verdict, Rings(own.droppers, names))
        yield Picture(_("Along the footrope"), straight)
        yield Picture(_("The net's mouth from above"), plan_view(right, verdict, own, names))

    def _remarks(self, task, placed):
        """Yield what breaks no rule but is worth a word."""
        for at in sorted(set(placed)):
            if placed.count(at) > 1:
                yield _("{count} droppers hang together at {off_center}.").format(
                    count=placed.count(at), off_center=off_center(at)
                )
        spare = self._spare(task, placed)
        if spare:
            weight = chain.mass_in_sea_water(
                chain.stock_for(task.diameter), task.length, len(spare)
            )
            one = len(spare) == 1
            yield (
                _(
                    "You hung {placed} droppers. {fewest} are enough. No rule forbids the "
                    "{value}, but {value2} {pounds} in sea water. You could take off {join}."
                ).format(
                    placed=len(placed),
                    fewest=len(task.fewest),
                    value=_("extra one") if one else _("{spare} extra").format(spare=len(spare)),
                    value2=_("it adds") if one else _("they add"),
                    pounds=units.pounds(weight),
                    join="; and ".join(off_center(at) for at in spare),
                )
            )

    def _spare(self, task, placed):
        """Return the places that could be bared one after another without breaking a rule."""
        kept, spare = list(placed), []
        if len(placed) <= len(task.fewest):
            return spare
        before = judge(task.rig(placed), task.rulebook).failed_keys
        # Those that hang away from every place of the fewest come off first.
        needed = {round(at / INCH, 6) for at in task.fewest}
        for at in sorted(placed, key=lambda each: round(each / INCH, 6) in needed):
            rest = list(kept)
            rest.remove(at)
            if judge(task.rig(rest), task.rulebook).failed_keys == before:
                kept, spare = rest, [*spare, at]
        return sorted(spare)
