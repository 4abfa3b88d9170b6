"""The tag that says how the regulation has mesh measured, and what may not be on the net."""

from django.utils.translation import gettext as _

from rigs.words import mesh
from rigs.words.say import gettext_lazy
from rigs.words.units import INCH, POUND, metric, trimmed

from ..errors import TagError
from .grammar import inline


def _inches_too(metres, metric_text):
    return f"{metric_text} ({trimmed(metres / INCH, 2)} in)"


def _kilograms(mass):
    return f"{trimmed(mass, 1)} kg ({trimmed(mass / POUND, 2)} lb)"


_PARTS = {
    "series": str(mesh.SERIES),
    "lacings": gettext_lazy("{FROM_LACINGS} meshes").format(FROM_LACINGS=mesh.FROM_LACINGS),
    "thick": metric(mesh.GAUGE.thick),
    "taper": f"{metric(mesh.GAUGE.taper)} in {metric(mesh.GAUGE.length)}",
    "turn": _inches_too(mesh.GAUGE.turn, f"{mesh.GAUGE.turn * 1000:g} mm"),
    "light": _kilograms(mesh.GAUGE.light),
    "heavy": _kilograms(mesh.GAUGE.heavy),
    "strap": f"{trimmed(mesh.STRAP / INCH, 2)} in ({trimmed(mesh.STRAP * 100, 1)} cm)",
    "measured": mesh.MEASURED,
    "top": mesh.TOP_HALF,
    "blocked": mesh.CLOSED_UP,
}


@inline("mesh")
def measuring(page, part):
    """A figure or a clause of how mesh is measured: ``series``, ``heavy``, ``measured``."""
    if part not in _PARTS:
        raise TagError(
            _("nothing is known of “{part}” in mesh: use one of {PARTS}").format(
                part=part, PARTS=", ".join(_PARTS)
            )
        )
    return _PARTS[part]
