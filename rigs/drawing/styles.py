"""How each kind of shape looks; the site's stylesheet has a rule for each."""

from typing import NamedTuple


class Style(NamedTuple):
    """
    Stroke and fill by their names in ``palette.DRAWINGS``, None for none.

    ``width`` of the stroke and ``dash`` (on, off) in drawing units; ``bold`` for text.
    """

    stroke: str | None = None
    fill: str | None = None
    width: float = 0.0
    dash: tuple[float, float] | None = None
    bold: bool = False


STYLES = {
    # ground
    "paper": Style(fill="paper"),
    "water": Style(fill="water"),
    "seabed": Style(stroke="bed-edge", fill="bed", width=1.2),
    "sand": Style(fill="bed-edge"),
    # the net
    "netting": Style(fill="netting"),
    "net": Style(stroke="twine", width=0.9),
    "belly": Style(stroke="twine", width=3),
    "footrope": Style(stroke="rope", width=3.4),
    "headrope": Style(stroke="head", width=2.4),
    "float": Style(stroke="ball-edge", fill="ball", width=1.1),
    "corner": Style(stroke="rope", fill="paper", width=2),
    "wing-end": Style(stroke="rope", width=3),
    "center-line": Style(stroke="quiet", width=1, dash=(7, 4)),
    # chain and wire
    "dropper": Style(stroke="paper", fill="steel", width=1),
    "dropper-chain": Style(stroke="steel", width=2.2),
    "link": Style(stroke="dull", width=4.4),
    "shine": Style(stroke="shine", width=2.2),
    "rust": Style(stroke="rust", width=2),
    "weight": Style(stroke="steel", fill="fault-paper", width=1.6),
    "sweep": Style(stroke="sweep", width=2.6, dash=(2.5, 3.5)),
    "leg": Style(stroke="steel", width=2),
    "cable": Style(stroke="steel", width=3),
    "gauged": Style(fill="steel"),
    "door": Style(stroke="steel", fill="faint", width=2),
    # another rig drawn along with this one
    "ghost": Style(stroke="ghost", width=2.2),
    "measured": Style(stroke="ghost", width=1.6),
    "before": Style(stroke="ghost", width=1.6, dash=(4, 4)),
    # measuring
    "dimension": Style(stroke="quiet", width=1),
    "scale": Style(stroke="quiet", width=1),
    "arrow": Style(stroke="quiet", width=2),
    "arrow-head": Style(fill="quiet"),
    # the sea chart
    "area-open": Style(fill="faint"),
    "area-side": Style(stroke="rope", width=2),
    "area-shut": Style(stroke="rope", width=1.4, dash=(5, 4)),
    "closure": Style(stroke="fault", fill="fault-paper", width=1.4, dash=(6, 3)),
    "shore": Style(stroke="bed-edge", width=3, dash=(1, 5)),
    "graticule": Style(stroke="twine", width=0.9),
    "position": Style(stroke="fault", width=2.4),
    "nearest": Style(stroke="fault", width=1.4, dash=(2, 3)),
    # what is wrong
    "fault": Style(stroke="fault", width=2.2),
    "fault-stretch": Style(stroke="fault", width=7, dash=(0.5, 9)),
    "badge": Style(stroke="paper", fill="fault", width=1.2),
    # life
    "fish": Style(fill="fish"),
    "flatfish": Style(fill="flatfish"),
    "crab": Style(stroke="crab", fill="crab", width=1.6),
    "limb": Style(stroke="crab", width=1.6),
    "eye": Style(fill="paper"),
    # graphs
    "band-1": Style(stroke="quiet", fill="band-1", width=0.8),
    "band-2": Style(stroke="quiet", fill="band-2", width=0.8),
    "band-3": Style(stroke="quiet", fill="band-3", width=0.8),
    "band-4": Style(stroke="quiet", fill="band-4", width=0.8),
    "band-5": Style(stroke="quiet", fill="band-5", width=0.8),
    "band-6": Style(stroke="quiet", fill="band-6", width=0.8),
    "band-7": Style(stroke="quiet", fill="band-7", width=0.8),
    "band-8": Style(stroke="quiet", fill="band-8", width=0.8),
    "hatch": Style(stroke="quiet", width=0.9),
    "interval": Style(stroke="steel", width=2),
    "curve": Style(stroke="rope", width=2.6),
    "curve-band": Style(fill="band-5"),
    "curve-median": Style(stroke="head", width=1.8, dash=(4, 3)),
    # lettering
    "label": Style(fill="ink"),
    "label-strong": Style(fill="ink", bold=True),
    "label-quiet": Style(fill="quiet"),
    "label-fault": Style(fill="fault", bold=True),
    "label-ghost": Style(fill="ghost", bold=True),
    "badge-number": Style(fill="on-fault", bold=True),
}
