"""
Every color of the site, its drawings and its prints, once.

`python -m rigs.drawing.palette FILE` writes them as the variables of a stylesheet, for light and
dark screens and for paper.
"""

import sys
from pathlib import Path
from typing import NamedTuple

from rigs.words.say import gettext as _


class Color(NamedTuple):
    """A color as #rrggbb, on light and on dark screens; on paper the light one if not told."""

    light: str
    dark: str
    paper: str = ""

    @property
    def printed(self) -> str:
        """The color on paper."""
        return self.paper or self.light


_BLACK, _WHITE = "#000000", "#ffffff"

SITE = {
    "ground": Color("#f6f5f1", "#0e181d", _WHITE),
    "paper": Color("#ffffff", "#16242b", _WHITE),
    "ink": Color("#16252d", "#e8eff1", _BLACK),
    "ink-soft": Color("#4b5b64", "#a9b9c0", "#333333"),
    "line": Color("#c9d1d3", "#33464f", "#999999"),
    "line-strong": Color("#6d7d85", "#7d9099", "#555555"),
    "accent": Color("#0b5565", "#7fd0de", _BLACK),
    "accent-deep": Color("#083f4b", "#a8e2ec"),
    "on-accent": Color("#ffffff", "#06262e"),
    "tint": Color("#e3eff1", "#1b333b", _WHITE),
    "good": Color("#1d6434", "#8fd6a3", _BLACK),
    "good-tint": Color("#e6f3e9", "#173020", _WHITE),
    "bad": Color("#a2231d", "#ff9f97", _BLACK),
    "bad-tint": Color("#fbeae8", "#3a1c1a", _WHITE),
    "warn": Color("#7a4b00", "#f2c572", _BLACK),
    "warn-tint": Color("#fbf1da", "#35290f", _WHITE),
    "focus": Color("#b45309", "#ffb454"),
    # rules missed: shades from pale to strong
    "heat-1": Color("#f6ead0", "#2c2a1d"),
    "heat-2": Color("#f3d6a4", "#43361a"),
    "heat-3": Color("#eebd7d", "#5c421a"),
    "heat-4": Color("#e59d66", "#774a1b"),
    "heat-ink": Color("#16252d", "#f4f7f8"),
}
"""Pages."""

DRAWINGS = {
    "paper": Color("#f4f9fc", "#0e1d28"),
    "ink": Color("#12222e", "#e9f1f6"),
    "quiet": Color("#465a6b", "#a9bdcb"),
    "rope": Color("#0a5a7d", "#74c3e8"),
    "head": Color("#8a4708", "#eab072"),
    "ball": Color("#f39a3d", "#f0a04b"),
    "ball-edge": Color("#8a4708", "#ffd9ac"),
    "steel": Color("#22313d", "#dbe6ee"),
    "dull": Color("#44525d", "#7b919f"),
    "rust": Color("#8b6f5e", "#59493f"),
    "shine": Color("#ffffff", "#ffffff"),
    "fault": Color("#b3201a", "#ff8d84"),
    "fault-paper": Color("#fff1ef", "#4a1613"),
    "on-fault": Color("#ffffff", "#2b0705"),
    "ghost": Color("#6a3d9a", "#c9a6f5"),
    "sweep": Color("#6b6213", "#d6cb6a"),
    "twine": Color("#a9c0cf", "#35536a"),
    "netting": Color("#e3eef5", "#14293a"),
    "water": Color("#e6f2f8", "#123040"),
    "bed": Color("#e2d3b0", "#4d422a"),
    "bed-edge": Color("#8d774a", "#a08d60"),
    "fish": Color("#5f87a0", "#86b0c9"),
    "flatfish": Color("#9c7f4d", "#c0a471"),
    "crab": Color("#b4533b", "#e08467"),
    "faint": Color("#c4d3dd", "#3a5264"),
    "band-1": Color("#0a5a7d", "#74c3e8"),
    "band-2": Color("#3f86a5", "#5a9dbd"),
    "band-3": Color("#76a9c0", "#447e9b"),
    "band-4": Color("#a3c5d5", "#33637d"),
    "band-5": Color("#c6dbe5", "#264c61"),
    "band-6": Color("#dfebf1", "#1c394a"),
    "band-7": Color("#e3bba8", "#8a5a45"),
    "band-8": Color("#f0f6f9", "#142833"),
}
"""Drawings, whether on a page or printed."""

PRINTS = {
    "ink": SITE["ink"].light,
    "soft": SITE["ink-soft"].light,
    "accent": SITE["accent"].light,
    "demo": "#8a3b00",
    "foot": DRAWINGS["quiet"].printed,
    "rule": "#8a9aa5",
}
"""What is written and ruled on prints in color: no page shows it."""


def _block(screen: str, indent: str) -> str:
    """Return the rule that sets all variables to their colors on ``screen``."""
    told = {
        **{name: getattr(color, screen) for name, color in SITE.items()},
        **{f"draw-{name}": getattr(color, screen) for name, color in DRAWINGS.items()},
    }
    lines = "".join(f"{indent}  --{name}: {color};\n" for name, color in told.items())
    return f"{indent}:root {{\n{lines}{indent}}}\n"


def stylesheet() -> str:
    """Return all colors as the variables of a stylesheet."""
    return _(
        "/* Made from rigs/drawing/palette.py: change a color there, then write this file "
        "by\n * python -m rigs.drawing.palette training/static/css/palette.css\n */\n\n{block}\n"
        "@media (prefers-color-scheme: dark) {{\n{block2}}}\n\n@media print {{\n{block3}}}\n"
    ).format(block=_block("light", ""), block2=_block("dark", "  "), block3=_block("printed", "  "))


if __name__ == "__main__":
    Path(sys.argv[1]).write_text(stylesheet(), "utf-8")
