"""The droppers: of what chain they are, and how long."""

from collections import Counter
from dataclasses import replace
from random import Random

from rigs.words import sizes
from rigs.words.gear import PORT, Dropper, Rig
from rigs.words.say import gettext as _
from rigs.words.say import gettext_lazy
from rigs.words.sizes import CHAIN_LADDER, chains
from rigs.words.units import INCH, ROUNDING, inches

from .base import Measure, worst
from .making import (
    Making,
    Told,
    at_random,
    farthest,
    listed,
    swapped,
    there,
)
from .oddity import Oddity, one_changed
from .questions import (
    LEAST,
    LENGTH,
    MOST,
    Question,
    all_so,
    one,
)
from .readings import Readings
from .sights import LookedAt, Sights
from .spans import SoldChain, Steps

DROPPERS = Question(
    "droppers",
    gettext_lazy("Do droppers hang from the footrope?"),
    of=lambda rig: None if rig.droppers is None else bool(rig.droppers),
    stop="droppers",
    place=10,
)
_CHAIN = Question(
    "dropper_chain",
    gettext_lazy("Chain size, one by one, or the thickest"),
    LENGTH,
    "in",
    "chain",
    help=gettext_lazy("The size it is sold under. Commas between, if you write down several."),
    picks=tuple(inches(size) for size in sizes.chains()),
    several=MOST,
    of=lambda rig: worst(DropperStock, rig, max),
    stop="droppers",
    place=30,
)


class DropperBare(LookedAt):
    """Whether the droppers are bare chain."""

    key = "dropper_bare"
    about = gettext_lazy("Make of the droppers")
    met = Sights(
        plain=(
            gettext_lazy("Every dropper is plain chain from the footrope down."),
            gettext_lazy("The droppers are plain, rusty chain."),
        ),
        close=(
            gettext_lazy("One dropper is new and bright. Like the rusty ones, it is plain chain."),
            gettext_lazy("A basket of rubber cookies is on deck. The droppers are plain chain."),
            gettext_lazy(
                "The links of one dropper are worn thin near its end. All is plain chain."
            ),
            gettext_lazy(
                "One dropper was cut from another chain than the rest. All are plain chain."
            ),
        ),
    )
    broken = Sights(
        plain=(
            gettext_lazy("Rubber cookies are strung along one dropper from the footrope down."),
            gettext_lazy("A lead weight is wired to the end of one dropper."),
        ),
        close=(
            gettext_lazy(
                "One rubber cookie is threaded on one dropper. The others are plain chain."
            ),
            gettext_lazy("A turn of old rope is wound around one dropper, up by the footrope."),
            gettext_lazy("A hand's length of hose covers one dropper where it rubs."),
            gettext_lazy(
                "One dropper has a small lead ring in its last link. The rest is plain chain."
            ),
        ),
    )

    def read(self, rig: Rig) -> Readings | None:
        if rig.droppers is None:
            return None
        return [each.bare for each in rig.droppers], rig.droppers

    sheet = one(
        "droppers",
        Question(
            "dropper_bare",
            gettext_lazy("Are they all bare chain?"),
            of=lambda rig: all_so([each.bare for each in rig.droppers or ()]),
            stop="droppers",
            place=20,
        ),
        absent=DROPPERS,
    )

    def breach(self, rig: Rig, side: str, wire: str) -> Rig:
        hung = there(rig.droppers)
        last = 0 if side == PORT else len(hung) - 1
        return rig.with_(droppers=swapped(hung, last, bare=False))

    def spoil(self, making: Making) -> Rig:
        return at_random(making, "droppers", bare=False)


def _doubled(rig: Rig, rng: Random) -> Rig:
    """Hang a second chain beside that of one dropper."""
    return rig.with_(droppers=one_changed(there(rig.droppers), rng, lambda each: {"count": 2}))


def _lighter(rig: Rig, rng: Random) -> Rig:
    """Cut one dropper from lighter chain than the rest."""

    def lighter(each: Dropper) -> dict[str, float]:
        return {"diameter": max(size for size in chains() if size < there(each.diameter))}

    return rig.with_(droppers=one_changed(there(rig.droppers), rng, lighter))


class DropperStock(Measure):
    """Of how thick a chain the droppers are."""

    key = "dropper_stock"
    about = gettext_lazy("Chain of the droppers")
    sizes_of = gettext_lazy("Chain for the droppers")
    on_drawing = gettext_lazy("Measure each chain across, one chain at a time.")
    dimension = "length"
    allowance = "diameter"
    chain = True
    scale = SoldChain()
    turn = 51
    oddities = (
        Oddity(
            1,
            gettext_lazy("doubled dropper"),
            _doubled,
            gettext_lazy(
                "One dropper is two chains side by side. This site gauges each by itself."
            ),
        ),
        Oddity(
            2,
            gettext_lazy("light dropper"),
            _lighter,
            gettext_lazy(
                "One dropper is of lighter chain than the rest. They do not have to match."
            ),
        ),
    )

    def read(self, rig: Rig) -> Readings | None:
        if rig.droppers is None:
            return None
        return [each.diameter for each in rig.droppers], rig.droppers

    sheet = one(
        gettext_lazy("thickest dropper"),
        _CHAIN,
        absent=DROPPERS,
        each=gettext_lazy("dropper {at} of {of} gauged"),
    )

    def put(self, making: Making) -> Rig:
        return farthest(making, "droppers", "diameter")

    def near(self, making: Making) -> Told:
        """What chain some of the droppers are, the thickest among them."""
        rng, hung = making.rng, there(making.rig.droppers)
        worst = making.reading()
        lighter = [size for size in CHAIN_LADDER if size < worst + ROUNDING][-3:]
        others = [rng.choice(lighter), rng.choice(lighter)]
        few = rng.sample(range(len(hung)), 3)
        sizes = dict(zip(few, making.mixed(worst, *others), strict=True))
        # All that are not named are of the lightest of the three.
        made = tuple(
            replace(each, diameter=sizes.get(index, min(sizes.values())))
            for index, each in enumerate(hung)
        )
        counts = Counter(there(each.diameter) for each in made)
        told = [
            _("{count} of {inches} chain").format(count=count, inches=inches(size))
            for size, count in counts.items()
        ]
        rng.shuffle(told)
        return making.rig.with_(droppers=made), (
            _("Droppers on the footrope: {listed}.").format(listed=listed(told)),
        )


def _longer(rig: Rig, rng: Random) -> Rig:
    """Make one dropper longer than the rest."""
    more = rng.randint(4, 14) * INCH

    def longer(each: Dropper) -> dict[str, float]:
        return {"length": there(each.length) + more}

    return rig.with_(droppers=one_changed(there(rig.droppers), rng, longer))


class DropperLength(Measure):
    """How long the droppers are."""

    key = "dropper_length"
    about = gettext_lazy("Lengths of the droppers")
    sizes_of = gettext_lazy("Lengths of a dropper")
    on_drawing = gettext_lazy("Measure each dropper from the footrope to its end.")
    dimension = "length"
    allowance = "length"
    scale = Steps(INCH / 2, 6)
    turn = 52
    oddities = (
        Oddity(
            5,
            gettext_lazy("long dropper"),
            _longer,
            gettext_lazy("One dropper is longer than the rest. Only the shortest one counts."),
        ),
    )

    def read(self, rig: Rig) -> Readings | None:
        if rig.droppers is None:
            return None
        return [each.length for each in rig.droppers], rig.droppers

    sheet = one(
        gettext_lazy("shortest dropper"),
        Question(
            "dropper_length",
            gettext_lazy("Length of the droppers, one by one, or the shortest"),
            LENGTH,
            "in",
            "dropper",
            help=gettext_lazy(
                "Along the chain, with commas between. Begin at the port wing end. If you count "
                "links, we use the longest link that the chain standard allows (from memory). "
                "Measure if it is close."
            ),
            chain=_CHAIN.name,
            several=LEAST,
            of=lambda rig: worst(DropperLength, rig, min),
            stop="droppers",
            place=40,
        ),
        absent=DROPPERS,
        each=gettext_lazy("dropper {at} of {of} measured"),
    )

    def spoil(self, making: Making) -> Rig:
        hung = there(making.rig.droppers)
        index = making.rng.randrange(len(hung))
        return making.rig.with_(droppers=swapped(hung, index, length=making.reading()))

    def put(self, making: Making) -> Rig:
        return farthest(making, "droppers", "length")

    def near(self, making: Making) -> Told:
        """The three shortest droppers."""
        hung = there(making.rig.droppers)
        worst = making.reading()
        short = making.mixed(worst, *making.beside(worst, 2))
        few = making.rng.sample(range(len(hung)), len(short))
        lengths = dict(zip(few, short, strict=True))
        made = tuple(
            replace(each, length=lengths.get(index, max(there(each.length), *short)))
            for index, each in enumerate(hung)
        )
        told = listed([inches(each) for each in short])
        return making.rig.with_(droppers=made), (
            _("The shortest droppers are {told} long.").format(told=told),
        )
