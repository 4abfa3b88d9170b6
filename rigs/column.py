"""Text set in columns on a sheet of paper: see ``paper``."""

import re

_UNIT = re.compile(r"(\d) (ft|in|lb|m|fm)\b")  # a figure and its unit stay on one line


class Measured:
    """Stands in for a paper to find out whether everything fits on it."""

    def __init__(self, paper):
        self.width = paper.width

    def text(self, *args, **options):
        """Write nothing."""

    box = line = text


class Column:
    """Text set from the top of a column down, as far as there is room."""

    def __init__(self, paper, x, y, width, bottom, size):
        self.paper, self.x, self.y = paper, x, y
        self.width, self.bottom, self.size = width, bottom, size
        self.left_out = 0

    def _wrapped(self, words, indent, bold):
        lines = [""]
        for word in _UNIT.sub("\\1\u00a0\\2", words).split(" "):
            longer = f"{lines[-1]} {word}".strip()
            if lines[-1] and self.paper.width(longer, self.size, bold) > self.width - indent:
                lines.append(word)
            else:
                lines[-1] = longer
        return lines

    def _take(self, height):
        """Return the y of a piece so high, or None if there is no room for it."""
        if self.left_out or self.y + height > self.bottom:
            self.left_out += 1
            return None
        y, self.y = self.y, self.y + height
        return y

    def heading(self, words):
        y = self._take(self.size * 1.9)
        if y is not None:
            self.paper.text(self.x, y + self.size * 0.45, words, self.size * 1.1, True)
            self.paper.line(self.x, y + self.size * 1.75, self.x + self.width, y + self.size * 1.75)

    def say(self, words, bold=False, box=False):
        """Write ``words``, with a box to tick before them if ``box``."""
        indent = self.size * 1.6 if box else 0
        lines = self._wrapped(words, indent, bold)
        y = self._take(len(lines) * self.size * 1.2 + self.size * 0.3)
        if y is None:
            return
        if box:
            self.paper.box(self.x, y + self.size * 0.2, self.size * 0.95, self.size * 0.95)
        for i, line in enumerate(lines):
            self.paper.text(
                self.x + indent, y + self.size * (0.25 + 1.2 * i), line, self.size, bold
            )

    def row(self, cells, shares, bold=False):
        """Write ``cells`` side by side, each starting at its share of the width."""
        y = self._take(self.size * 1.45)
        if y is None:
            return
        for cell, share in zip(cells, shares, strict=True):
            self.paper.text(self.x + share * self.width, y + self.size * 0.3, cell, self.size, bold)
        self.paper.line(self.x, y + self.size * 1.42, self.x + self.width, y + self.size * 1.42)

    def blank(self, label, answer, share):
        """Write ``label`` and leave ``share`` of the width to write on, ``answer`` below it."""
        room = self.width * share
        lines = self._wrapped(label, room + self.size, False)
        y = self._take(max(len(lines) * 1.2, 1.9) * self.size + self.size * 0.5)
        if y is None:
            return
        for i, line in enumerate(lines):
            self.paper.text(self.x, y + self.size * (0.3 + 1.2 * i), line, self.size)
        start = self.x + self.width - room
        self.paper.line(start, y + self.size * 1.4, self.x + self.width, y + self.size * 1.4)
        small = self.size * 0.75
        at = self.x + self.width - self.paper.width(answer, small)
        self.paper.text(at, y + self.size * 1.5, answer, small)
