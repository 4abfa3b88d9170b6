"""Paper that knows what was put where, for tests of prints."""

from collections import defaultdict

from rigs.drawing.page import MARGIN
from rigs.drawing.paper import HEIGHT, WIDTH, Document

WORDS_HIGH = 1.2  # of their size


class Recorder(Document):
    """A Document that knows what was put where: (page, x, y, right, bottom, words)."""

    def __init__(self, title="print"):
        self.page, self.said, self.boxes, self.ruled = 1, [], [], []
        super().__init__(title)

    def new_page(self):
        self.page += 1
        super().new_page()

    def text(self, x, y, words, size, bold=False, color="black", apart=0):
        right = x + self.width(words, size, bold)
        self.said.append(
            (self.page, x, y, right, y + size * WORDS_HIGH, words.replace("\xa0", " "))
        )
        super().text(x, y, words, size, bold, color, apart)

    def box(self, x, y, width, height, filled=False, color="black", weight=1):
        self.boxes.append((self.page, x, y, x + width, y + height))
        super().box(x, y, width, height, filled, color, weight)

    def line(self, x1, y1, x2, y2, color="black", weight=0.5):
        self.ruled.append((self.page, x1, y1, x2, y2, weight))
        super().line(x1, y1, x2, y2, color, weight)

    def on(self, page):
        """Return what was said on ``page``, in order."""
        return [words for number, *_, words in self.said if number == page]


def assert_within(paper, bottom=HEIGHT):
    for page, x, y, right, below, *words in (*paper.said, *paper.boxes):
        assert x >= MARGIN - 0.1, (page, words)
        assert right <= WIDTH - MARGIN + 0.5, (page, words)
        assert y >= 0, (page, words)
        assert below <= bottom, (page, words)


def assert_apart(paper):
    """Assert that no line of text runs into another."""
    by_page = defaultdict(list)
    for page, *box, words in paper.said:
        by_page[page].append((*box, words))
    for said in by_page.values():
        for i, (x, y, right, below, words) in enumerate(said):
            for x2, y2, right2, below2, words2 in said[i + 1 :]:
                meets = (
                    x < right2 - 0.5 and x2 < right - 0.5 and y < below2 - 2.5 and y2 < below - 2.5
                )
                assert not meets, (words, words2)
