"""Hang droppers along a footrope."""

from dataclasses import dataclass, replace

from django import forms

from rigs.drawing.plan import plan_view
from rigs.drawing.straight import straight_view
from rigs.make.ropes import bare_rope
from rigs.physics import chain
from rigs.requirements import layout
from rigs.rules.judge import FAIL, PASS, judge
from rigs.rules.rulebook import ROUNDING
from rigs.words import units
from rigs.words.gear import PORT, SIDES, STARBOARD, Dropper, Footrope, Headrope, Rig, Sweep
from rigs.words.places import off_center
from rigs.words.units import INCH, UnitError, feet_inches

from ..typed_places import read_distances, write_distances
from .base import AnswerForm, Kind, Line, Marked, Picture, Task

SIGN = {PORT: -1, STARBOARD: 1}

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


class SpacingForm(AnswerForm):
    """Where droppers hang, measured from the center: works without any script."""

    port = forms.CharField(
        label="To port of the center",
        required=False,
        max_length=1500,
        help_text="One distance on each line, such as 6 ft or 6 ft 6 in.",
        widget=forms.Textarea(attrs={"rows": 5, "autocomplete": "off", "spellcheck": "false"}),
    )
    center = forms.BooleanField(label="A dropper right at the center", required=False)
    starboard = forms.CharField(
        label="To starboard of the center",
        required=False,
        max_length=1500,
        help_text="One distance on each line, such as 6 ft or 6 ft 6 in.",
        widget=forms.Textarea(attrs={"rows": 5, "autocomplete": "off", "spellcheck": "false"}),
    )
    on_sweep = forms.CharField(
        label="Take your dropper farthest to port. Its lower end meets the sweep. How far is that "
        "from the center of the sweep?",
        max_length=40,
        help_text="Measured along the sweep, such as 6 ft 6 in.",
        widget=forms.TextInput(attrs={"autocomplete": "off", "spellcheck": "false"}),
        error_messages={"required": "Write a distance, such as 6 ft 6 in."},
    )
    field_order = ["port", "center", "starboard", "on_sweep"]

    def __init__(self, *args, **kwargs):
        super().__init__(*args, **kwargs)
        if not self.task.has_sweep:
            del self.fields["on_sweep"]

    def clean_on_sweep(self):
        try:
            return units.parse_length(self.cleaned_data["on_sweep"])
        except UnitError as error:
            raise forms.ValidationError(str(error)) from error

    @property
    def places(self):
        """The fields that say where droppers hang on the footrope."""
        return [self[name] for name in ("port", "center", "starboard")]

    def _distances(self, side):
        reach = abs(self.task.footrope.end(side))
        try:
            distances = read_distances(self.cleaned_data[side])
        except UnitError as error:
            raise forms.ValidationError(str(error)) from error
        beyond = [each for each in distances if each > reach + ROUNDING]
        if beyond:
            raise forms.ValidationError(
                f"{feet_inches(beyond[0])} is past the {side} wing end, "
                f"which is {feet_inches(reach)} from the center."
            )
        return distances

    def clean_port(self):
        return self._distances(PORT)

    def clean_starboard(self):
        return self._distances(STARBOARD)

    def clean(self):
        cleaned = super().clean()
        if not self.errors and not positions(cleaned):
            raise forms.ValidationError("Hang at least one dropper before you turn it in.")
        return cleaned

    @property
    def positions(self):
        """Where the droppers hang, signed metres from the center; the form must be valid."""
        return positions(self.cleaned_data)


def positions(cleaned):
    """Return the signed metres from the center of a form's cleaned data, port to starboard."""
    found = [SIGN[side] * distance for side in SIDES for distance in cleaned[side]]
    return sorted(found + [0.0] * bool(cleaned["center"]))


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


def answer_at(places):
    """Return the raw answer that hangs droppers at ``places``, signed metres from the center."""
    return {
        "port": write_distances(-at for at in sorted(places, reverse=True) if at < 0),
        "center": any(at == 0 for at in places),
        "starboard": write_distances(at for at in sorted(places) if at > 0),
        # Straight down; only read where there is a sweep.
        "on_sweep": write_distances([abs(min(places, default=0.0))]),
    }


class SpaceDroppers(Kind):
    """A drawn footrope; the trainee hangs the droppers."""

    slug = "space-droppers"
    title = "Space the droppers"
    summary = "Hang the fewest droppers along a footrope that the rules allow."
    template = "exercises/space_droppers.html"
    form_class = SpacingForm
    rulebooks = {
        1: ("no-sweep",),
        2: ("no-sweep", "grate"),
        3: ("no-sweep", "grate", "chain-sweep"),
    }

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
                ("Footrope", feet_inches(rope.length)),
                ("Bosom, corner to corner", feet_inches(rope.bosom)),
                ("Port wing", feet_inches(rope.port_wing)),
                ("Starboard wing", feet_inches(rope.starboard_wing)),
            ],
            "pictures": [Picture("The bare footrope", straight_view(rope))],
            # For the script's board, in inches from the center, port negative.
            "board": {
                "marks": [
                    {"name": "port wing end", "at": _whole_inches(rope.port_end)},
                    {"name": "port corner", "at": _whole_inches(rope.port_corner)},
                    {"name": "center", "at": 0},
                    {"name": "starboard corner", "at": _whole_inches(rope.starboard_corner)},
                    {"name": "starboard wing end", "at": _whole_inches(rope.starboard_end)},
                ],
            },
        }

    def any_answer(self, task):
        return answer_at([0.0])

    def grade(self, task, answer):
        cleaned = self.read(task, answer)
        placed = positions(cleaned)
        rig = task.rig(placed, cleaned.get("on_sweep"))
        verdict = judge(rig, task.rulebook)
        lines = [self._line(verdict.finding(KEYS[0]))]
        for key in KEYS[1:]:
            for side, finding in _by_side(rig, verdict.finding(key)):
                lines.append(self._line(finding, side))
        if task.has_sweep:
            lines.append(self._line(verdict.finding(ATTACHMENT)))
        lines.append(self._count_line(task, placed, all(line.right for line in lines)))
        return Marked(
            lines=tuple(lines),
            passed=all(line.right for line in lines),
            draw=lambda: self._pictures(task, placed),
            remarks=tuple(self._remarks(task, placed)),
        )

    @staticmethod
    def _count_line(task, placed, all_met):
        """Return the line on how many droppers hang; a point only if they meet the rules too."""
        hung, enough = len(placed), len(task.fewest)
        right = all_met and hung <= enough
        more = f"{hung - enough} too many" if hung > enough else ""
        return Line(
            key="fewest",
            title="No more droppers than needed",
            outcome=PASS if right else FAIL,
            right=right,
            marks=int(right),
            out_of=1,
            yours=f"{hung} dropper{'' if hung == 1 else 's'}",
            measured_text=f"the fewest that meet the rules are {enough}",
            allowed_text="no more than needed, and every rule met",
            margin_text=more,
            source="No rule asks for the fewest. This question does.",
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
        names = ("will do", "yours")
        straight = straight_view(task.footrope, right.droppers, verdict, own.droppers, names)
        yield Picture("Along the footrope", straight)
        yield Picture("The net's mouth from above", plan_view(right, verdict, own, names))

    def _remarks(self, task, placed):
        """Yield what breaks no rule but is worth a word."""
        for at in sorted(set(placed)):
            if placed.count(at) > 1:
                yield f"{placed.count(at)} droppers hang together at {off_center(at)}."
        spare = self._spare(task, placed)
        if spare:
            weight = chain.mass_in_sea_water(
                chain.stock_for(task.diameter), task.length, len(spare)
            )
            one = len(spare) == 1
            yield (
                f"You hung {len(placed)} droppers. {len(task.fewest)} are enough. No rule forbids "
                f"the {'extra one' if one else f'{len(spare)} extra'}, but "
                f"{'it adds' if one else 'they add'} {units.pounds(weight)} in sea water. You "
                f"could take off {'; and '.join(off_center(at) for at in spare)}."
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
